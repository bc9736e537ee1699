'use client'
import Link from 'next/link'
import { useMemo, useState } from 'react'
import { HelpCards } from '#app/_help/help-cards.tsx'
import { AppointmentHolder, type AppointmentHolderProps } from '#app/_live/appointment-holder.tsx'
import type { Seen } from '#app/_live/seen.ts'
import { APPOINTMENT_GONE, useSeen } from '#app/_live/use-seen.ts'
import { Button } from '#app/_ui/button.tsx'
import { CautionLine } from '#app/_ui/caution-line.tsx'
import { keyed } from '#app/_ui/finding-keys.ts'
import { FindingLine } from '#app/_ui/finding-line.tsx'
import { timeOf } from '#app/_ui/time-words.ts'
import { ToothFrame } from '#app/_ui/tooth-frame.tsx'
import { TroubleBox } from '#app/_ui/trouble-box.tsx'
import type { Finding } from '#shared/finding.ts'
import { can } from '#shared/people/role.ts'
import { workedTeeth } from '#shared/readiness/judges.ts'
import { hasReached } from '#shared/schedule/appointment.ts'
import { NumbnessPart } from '../../_parts/numbness-part.tsx'
import { shutAt } from '../../_parts/shut.ts'
import { StopButton } from '../../_parts/stop-button.tsx'
import { WaitsElsewhere } from '../../_parts/waits-elsewhere.tsx'
import styles from './guide.module.css'
import { listGuide, nextOf, type Part } from './guide-steps.ts'
import { Outcome } from './outcome.tsx'
import { Removed } from './removed.tsx'
import { StepNow } from './step-now.tsx'
import { useTicks } from './use-ticks.ts'

export function GuideScreen(props: AppointmentHolderProps) {
  return (
    <AppointmentHolder {...props}>
      <GuidePage {...props} />
    </AppointmentHolder>
  )
}

function GuidePage({ appointmentId, member }: AppointmentHolderProps) {
  const seen = useSeen({ appointmentId, member })
  if (!seen) return <TroubleBox trouble={APPOINTMENT_GONE} />
  return (
    <article className={styles.page}>
      <WaitsElsewhere seen={seen} />
      <Head seen={seen} />
      <HelpCards seen={seen} />
      <Guide seen={seen} />
      <CautionLine />
    </article>
  )
}

function Head({ seen }: { seen: Seen }) {
  const { patient, appointment } = seen.facts
  return (
    <header className={styles.head}>
      <ToothFrame teeth={workedTeeth(seen.facts)} notation={seen.notation} words />
      <h1>
        {patient ? `${patient.given} ${patient.family}` : 'Patient not known here'}
        <small>
          {timeOf(appointment.start, seen.zone)} · plan {seen.facts.plan?.number ?? 0}
        </small>
      </h1>
      <Link href={`/appointments/${appointment.id}`} className={styles.back} prefetch={false}>
        Back to the plan
      </Link>
      <StopButton seen={seen} />
    </header>
  )
}

/** Placing until it is recorded, then taking off; either may be looked at before its time. */
function Guide({ seen }: { seen: Seen }) {
  const { facts, isolation } = seen
  const due: Part = facts.asPlaced.length > 0 ? 'removal' : 'placing'
  const [looked, setLooked] = useState<Part | null>(null)
  const part = looked ?? due
  if (seen.isPutAway) return <TroubleBox trouble={DRAW_FIRST} />
  if (!isolation || isolation.sheets.length === 0 || isolation.state !== 'planned') {
    return <TroubleBox trouble={noGuide(seen)} />
  }
  return (
    <>
      <div className={styles.parts}>
        {(['placing', 'removal'] as const).map((each) => (
          <Button key={each} size="small" aria-pressed={part === each} onPress={() => setLooked(each)}>
            {each === 'placing' ? 'Placing' : 'Taking off'}
          </Button>
        ))}
      </div>
      {part === 'placing' ? <Placing seen={seen} /> : <TakingOff seen={seen} />}
    </>
  )
}

const DRAW_FIRST = {
  what: 'You draw your own plan first.',
  why: 'What is seen before it is thought of teaches little.',
  todo: 'Go back to the plan page and keep your drawing; the guide opens with it.',
}
const noGuide = ({ isolation, facts }: Seen) => ({
  what:
    isolation?.state === 'draft'
      ? `Plan ${facts.plan?.number ?? 0} is a draft: a question of it is open.`
      : 'There is no sheet to place in this appointment.',
  why: 'A guide through a plan that does not stand would lead to the wrong tooth.',
  todo: 'Go back to the plan and answer what is asked there.',
})

function Placing({ seen }: { seen: Seen }) {
  const kept = useTicks(seen, 'placing')
  const steps = useMemo(() => (seen.isolation ? listGuide(seen.isolation, 'placing') : []), [seen.isolation])
  const next = nextOf(steps, kept.ticks)
  return (
    <>
      <Ahead seen={seen} />
      {next ? (
        <StepNow key={next.key} now={next} steps={steps} kept={kept} seen={seen} />
      ) : (
        <Outcome seen={seen} steps={steps} ticks={kept.ticks} />
      )}
      <Pinches seen={seen} />
    </>
  )
}

/** The guide settles these itself, at their own steps. */
const AT_THEIR_STEP: ReadonlySet<Finding['rule']> = new Set([
  'teeth/not-recounted',
  'numbness/not-tested',
  'numbness/felt',
])

/** What would keep the clamp off is told at the first step, not at the clamp's. */
function Ahead({ seen }: { seen: Seen }) {
  if (hasReached(seen.readiness.line.stage, 'clamped')) return null
  const shut = shutAt(seen, 'clamp').filter(({ rule }) => !AT_THEIR_STEP.has(rule))
  if (shut.length === 0) return null
  return (
    <section aria-label="Still missing for the clamp" className={styles.ahead}>
      <h2>Still missing for the clamp</h2>
      <ul>
        {keyed(shut).map(({ key, finding }) => (
          <li key={key}>
            <FindingLine finding={finding} quiet={finding.level !== 'stop'} />
          </li>
        ))}
      </ul>
    </section>
  )
}

function TakingOff({ seen }: { seen: Seen }) {
  const kept = useTicks(seen, 'removal')
  const steps = useMemo(() => (seen.isolation ? listGuide(seen.isolation, 'removal') : []), [seen.isolation])
  const next = nextOf(steps, kept.ticks)
  return next ? (
    <StepNow key={next.key} now={next} steps={steps} kept={kept} seen={seen} />
  ) : (
    <Removed seen={seen} />
  )
}

/** The patient raised a hand: the gum is tested at once, and more anaesthetic is the dentist's to give. */
function Pinches({ seen }: { seen: Seen }) {
  const [open, setOpen] = useState(false)
  const { stage } = seen.readiness.line
  if (!hasReached(stage, 'seated') || !can(seen.member.roles, 'numbness:record')) return null
  return (
    <section className={styles.pinch} aria-label="Numbness" data-open={open || undefined}>
      <Button size="main" tone="stop" aria-expanded={open} onPress={() => setOpen(!open)}>
        {open ? 'It no longer pinches' : 'It pinches'}
        <small>{open ? 'close the numbness check' : 'the patient raised a hand'}</small>
      </Button>
      {open ? (
        <>
          <p className={styles.told}>
            Stop. Take the clamp off if it hurts. Tell {seen.facts.dentist?.shortName ?? 'the dentist'}: more
            anaesthetic is theirs to give. Test the gum on both sides before it goes on again.
          </p>
          <NumbnessPart seen={seen} />
        </>
      ) : null}
    </section>
  )
}

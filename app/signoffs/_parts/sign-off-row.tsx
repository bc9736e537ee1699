'use client'
import Link from 'next/link'
import { useMemo } from 'react'
import { HelpCards } from '#app/_help/help-cards.tsx'
import type { DayOf } from '#app/_live/day-of.ts'
import { type Seen, seeAppointment } from '#app/_live/seen.ts'
import { type Performing, usePerform } from '#app/_live/use-perform.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Row, Rows } from '#app/_ui/card.tsx'
import { operatoryWords } from '#app/_ui/labels.ts'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { bornWords, spanWords, timeOf } from '#app/_ui/time-words.ts'
import { ToothFrame } from '#app/_ui/tooth-frame.tsx'
import { workWords } from '#app/_ui/work-words.ts'
import { DrawnFirst } from '#app/appointments/[appointmentId]/_parts/drawn-first.tsx'
import { TimeOut } from '#app/appointments/[appointmentId]/_parts/read-back.tsx'
import { type Instant, minutesBetween } from '#shared/base/moment.ts'
import { workedTeeth } from '#shared/readiness/judges.ts'
import type { SignOff } from '#shared/readiness/sign-offs.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'
import { sayClamp } from '#shared/words/en/plan.ts'
import { PlacedRows } from './placed-rows.tsx'
import styles from './sign-offs.module.css'

export interface SignOffRowProps {
  signOff: SignOff
  of: DayOf
  now: Instant
}

const WANTS: Record<SignOff['wants'], string> = {
  word: 'asks you to agree to the plan',
  'isolation-check': 'asks you to look at the isolation before the start',
}

/** One chair: who waits for what, for how long, how long it stays numb, and what is agreed to. */
export function SignOffRow({ signOff, of, now }: SignOffRowProps) {
  const { world } = useWorld()
  const performing = usePerform()
  const { appointmentId, studentId, wants } = signOff
  const seen = useMemo(
    () => seeAppointment(world, { appointmentId, member: of.member, now }),
    [world, appointmentId, of.member, now],
  )
  if (!seen) return null
  const { patient, operatory, work } = seen.facts
  return (
    <li className={styles.row}>
      <header className={styles.who}>
        <ToothFrame teeth={workedTeeth(seen.facts)} notation={seen.notation} />
        <div>
          <h2>
            {operatoryWords(operatory?.name)}: {seen.nameOf(studentId)} {WANTS[wants]}
          </h2>
          <p>
            {patient
              ? `${patient.given} ${patient.family}, ${bornWords(patient.born)}`
              : 'Patient not known here'}{' '}
            · {work.map(workWords).join(' · ')}
          </p>
        </div>
        <Times signOff={signOff} seen={seen} />
      </header>
      <HelpCards seen={seen} />
      {wants === 'word' ? (
        <AgreeTo seen={seen} performing={performing} />
      ) : (
        <>
          <PlacedRows seen={seen} />
          <TimeOut seen={seen} performing={performing} />
        </>
      )}
      <Link href={`/appointments/${appointmentId}`} className={styles.open} prefetch={false}>
        Open the plan
      </Link>
      <OutcomeBox outcome={performing.outcome} />
    </li>
  )
}

function Times({ signOff: { since, numbUntil }, seen }: { signOff: SignOff; seen: Seen }) {
  const left = numbUntil === null ? null : minutesBetween(seen.now, numbUntil)
  return (
    <p className={styles.times}>
      <strong>{spanWords(Math.max(0, minutesBetween(since, seen.now)))}</strong> waiting, since{' '}
      {timeOf(since, seen.zone)}
      <br />
      {left === null || numbUntil === null
        ? 'nothing given yet'
        : left > 0
          ? `numb for about ${spanWords(left)} more, to ${timeOf(numbUntil, seen.zone)}`
          : `numbness may have passed at ${timeOf(numbUntil, seen.zone)}: check again`}
    </p>
  )
}

/** What the instructor's word covers, read back beside the button. */
function AgreeTo({ seen, performing }: { seen: Seen; performing: Performing }) {
  const { plan, appointment } = seen.facts
  if (plan === null) return null
  const said = (teeth: readonly Tooth[]) => teeth.map((tooth) => toothIn(tooth, seen.notation)).join(' ')
  const { sheets, alternative } = plan.agreed
  return (
    <>
      <Rows>
        {sheets.map((sheet) => (
          <Row key={sheet.field.join()} term="Exposed">
            {said(sheet.field)} · clamped{' '}
            {sheet.clamps.length === 0
              ? 'none'
              : sheet.clamps.map(({ tooth, family }) => `${said([tooth])} ${sayClamp(family)}`).join(', ')}
          </Row>
        ))}
        {alternative ? <Row term="Instead">{alternative.replaceAll('-', ' ')}</Row> : null}
      </Rows>
      <DrawnFirst seen={seen} />
      <ActButton
        kind="word.give"
        input={{ appointmentId: appointment.id, number: plan.number }}
        performing={performing}
        size="main"
        tone="ink"
        done="Your word on this plan is given."
      >
        I agree to plan {plan.number}
        <small>
          {seen.facts.patient?.given} {seen.facts.patient?.family} · {said(workedTeeth(seen.facts))} only
        </small>
      </ActButton>
    </>
  )
}

'use client'
import type { Seen } from '#app/_live/seen.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Card } from '#app/_ui/card.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { timeOf } from '#app/_ui/time-words.ts'
import type { Finding } from '#shared/finding.ts'
import { can } from '#shared/people/role.ts'
import { findOpenAsks } from '#shared/readiness/giving.ts'
import { workedTeeth } from '#shared/readiness/judges.ts'
import { standingOf } from '#shared/readiness/word.ts'
import { LAPSE_WORDS } from '#shared/words/en/readiness.ts'
import { Offered } from './offered.tsx'
import styles from './plan.module.css'
import { shutToWord } from './shut.ts'

/** The dentist's word on this plan number, and how it stands. */
export function WordPart({ seen }: { seen: Seen }) {
  const performing = usePerform()
  const { facts, member } = seen
  const standing = standingOf(facts, seen.now)
  if (standing.kind === 'not-needed' || facts.plan === null) return null
  const appointmentId = facts.appointment.id
  const live = standing.kind === 'live'
  const shut = shutToWord(seen)
  const asks = findOpenAsks({ facts, day: seen.day, now: seen.now })
  return (
    <Card title="The dentist’s word" tone="plain">
      <p className={styles.word} data-standing={standing.kind}>
        {standingWords(seen)}
      </p>
      {live || !can(member.roles, 'word:give') ? null : (
        <Offered seen={seen} needs="word:give" what="My word on this plan" shut={unfolded(shut, asks)}>
          <ActButton
            kind="word.give"
            input={{ appointmentId, number: facts.plan.number }}
            performing={performing}
            size="main"
            tone="ink"
            done="Your word on this plan is given."
          >
            My word on this plan
            <small>{readBackWords(seen)}</small>
          </ActButton>
        </Offered>
      )}
      {!live && facts.appointment.studentId === member.id ? (
        <ActButton
          kind="word.propose"
          input={{ appointmentId, number: facts.plan.number }}
          performing={performing}
          size="main"
          done="Put to the instructor."
        >
          Put this plan to the instructor
          <small>plan {facts.plan.number}</small>
        </ActButton>
      ) : null}
      {live && can(member.roles, 'word:give') ? (
        <ActButton
          kind="word.withdraw"
          input={{ appointmentId }}
          performing={performing}
          done="Your word is withdrawn."
        >
          Withdraw
        </ActButton>
      ) : null}
      <OutcomeBox outcome={performing.outcome} />
    </Card>
  )
}

/** What stands open is listed one by one in place of the refusal that counts it. */
const unfolded = (shut: readonly Finding[], asks: readonly Finding[]): Finding[] =>
  shut.flatMap((finding) => (finding.rule === 'word/asks-open' ? asks : [finding]))

function standingWords({ facts, now, nameOf, zone }: Seen): string {
  const standing = standingOf(facts, now)
  switch (standing.kind) {
    case 'not-needed':
      return 'No plan to agree to.'
    case 'missing':
      return `Not given yet on plan ${facts.plan?.number ?? 0}.`
    case 'live':
      return `${nameOf(standing.word.by)} gave their word on plan ${standing.word.planNumber} at ${timeOf(standing.word.at, zone)} (screen: ${standing.word.station}).`
    case 'lapsed':
      return `Lapsed: ${LAPSE_WORDS[standing.why]}. It was given on plan ${standing.word.planNumber}; plan ${facts.plan?.number ?? 0} stands now.`
    case 'changed-since-start':
      return `Changed since the start, dentist to look: ${LAPSE_WORDS[standing.why]}.`
  }
}

function readBackWords({ facts, notation }: Seen): string {
  const teeth = workedTeeth(facts).map((tooth) => toothIn(tooth, notation))
  const name = facts.patient ? `${facts.patient.given} ${facts.patient.family}` : 'patient'
  return `plan ${facts.plan?.number ?? 0} · ${name} · ${teeth.join(' ')}`
}

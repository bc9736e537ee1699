'use client'
import { ActButton } from '#app/_ui/act-button.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { can } from '#shared/people/role.ts'
import { workedTeeth } from '#shared/readiness/judges.ts'
import { shownWork } from '#shared/readiness/shown.ts'
import type { ActProps } from './act-props.ts'

/** Permission for exactly the planned teeth, where it is still missing or was given for others. */
export function ConsentAct({ seen, performing }: ActProps) {
  const isOpen = seen.readiness.open.some(({ rule }) => rule.startsWith('consent/'))
  const teeth = workedTeeth(seen.facts)
  if (!isOpen || !can(seen.member.roles, 'patient:identify')) return null
  const who = seen.facts.patient?.guardian?.relation ?? 'the patient'
  const said = teeth.map((tooth) => toothIn(tooth, seen.notation)).join(' ')
  return (
    <ActButton
      kind="consent.record"
      input={{
        appointmentId: seen.facts.appointment.id,
        text: `given by ${who} for ${said}`,
        teeth,
        saw: shownWork(seen.facts.work),
      }}
      performing={performing}
      done="The permission is recorded."
    >
      Permission for {said} given
      <small>by {who}</small>
    </ActButton>
  )
}

'use client'
import { ActButton } from '#app/_ui/act-button.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { workWords } from '#app/_ui/work-words.ts'
import { carerNow } from '#shared/people/patient.ts'
import { can } from '#shared/people/role.ts'
import { workedTeeth } from '#shared/readiness/judges.ts'
import { shownWork } from '#shared/readiness/shown.ts'
import type { ActProps } from './act-props.ts'

/** Permission for exactly the planned teeth, or the work that names none, where it is still missing or was given for others. */
export function ConsentAct({ seen, performing }: ActProps) {
  const isOpen = seen.readiness.open.some(({ rule }) => rule.startsWith('consent/'))
  const teeth = workedTeeth(seen.facts)
  if (!isOpen || !can(seen.member.roles, 'patient:identify')) return null
  const guardian = seen.facts.patient?.guardian ?? null
  const who = guardian ? carerNow(guardian) : 'the patient'
  const said =
    teeth.length > 0
      ? teeth.map((tooth) => toothIn(tooth, seen.notation)).join(' ')
      : seen.facts.work.map(workWords).join(', ')
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

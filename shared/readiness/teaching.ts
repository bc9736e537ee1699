import type { MemberId } from '../ids.ts'
import type { OwnDrawing } from '../isolation/isolation-facts.ts'
import type { AppointmentFacts } from './day-index.ts'
import { needsDam } from './gates.ts'
import { sameTeeth, workedTeeth } from './judges.ts'

/** Whether there is a plan that a student could have drawn: a dam with at least one sheet. */
export const canBeDrawn = ({ plan }: AppointmentFacts): boolean =>
  needsDam(plan) && (plan?.agreed.sheets.length ?? 0) > 0

/** What the student of this appointment drew for the work as it is; null: nothing, or it was for other teeth. */
export function findDrawing(facts: AppointmentFacts): OwnDrawing | null {
  const drawing = facts.choice?.drawing ?? null
  if (drawing === null || drawing.by !== facts.appointment.studentId) return null
  return sameTeeth(drawing.worked, workedTeeth(facts)) ? drawing : null
}

/** Whether the plan is kept from this person until they have drawn one of their own. Teaching, not secrecy. */
export const mustDrawFirst = (facts: AppointmentFacts, memberId: MemberId): boolean =>
  facts.appointment.studentId === memberId &&
  facts.student?.drawsFirst === true &&
  canBeDrawn(facts) &&
  findDrawing(facts) === null

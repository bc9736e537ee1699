import type { Instant } from '../base/moment.ts'
import { type Change, putting } from '../change.ts'
import type { ClinicId, MemberId } from '../ids.ts'
import { openChoice } from '../isolation/choice.ts'
import type { IsolationChoice } from '../isolation/isolation-facts.ts'
import type { AppointmentFacts } from './day-index.ts'

export type Answer = Omit<IsolationChoice['answers'][number], 'by' | 'at'>

/** Who answers, and when. */
interface Answering {
  clinicId: ClinicId
  newId: <Id>() => Id
  by: { id: MemberId }
  now: Instant
}

/** The appointment's choice with one more answer kept in it, by whom and when. */
export function withAnswer(
  { choice, appointment }: Pick<AppointmentFacts, 'choice' | 'appointment'>,
  answer: Answer,
  { clinicId, newId, by, now }: Answering,
): Change {
  const standing = choice ?? openChoice({ clinicId, id: newId(), appointmentId: appointment.id })
  const kept = { ...answer, by: by.id, at: now }
  return putting('isolationChoice', { ...standing, answers: [...standing.answers, kept] })
}

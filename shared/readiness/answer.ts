import { type Change, putting } from '../change.ts'
import type { CommandContext } from '../command.ts'
import { openChoice } from '../isolation/choice.ts'
import type { IsolationChoice } from '../isolation/isolation-facts.ts'
import type { AppointmentFacts } from './day-index.ts'

export type Answer = Omit<IsolationChoice['answers'][number], 'by' | 'at'>

/** The appointment's choice with one more answer kept in it, by whom and when. */
export function withAnswer(
  { choice, appointment }: AppointmentFacts,
  answer: Answer,
  { clinicId, newId, by, now }: CommandContext,
): Change {
  const standing = choice ?? openChoice({ clinicId, id: newId(), appointmentId: appointment.id })
  const kept = { ...answer, by: by.id, at: now }
  return putting('isolationChoice', { ...standing, answers: [...standing.answers, kept] })
}

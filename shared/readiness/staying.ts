import type { IsolationChoice } from '../isolation/isolation-facts.ts'
import type { AppointmentFacts } from './day-index.ts'

export const STAYS = 'numbness/nobody-stays'

/** Who stays with the patient after the needle, as last named, or null. */
export const findStaying = ({
  choice,
}: Pick<AppointmentFacts, 'choice'>): IsolationChoice['answers'][number] | null =>
  choice?.answers.findLast(({ rule }) => rule === STAYS) ?? null

import { type ClockTime, clockTimeOf, type Instant, parseClockTime } from '../base/moment.ts'
import type { IsolationChoice } from '../isolation/isolation-facts.ts'
import type { Appointment } from './appointment.ts'

type Kept = IsolationChoice['answers'][number]

const RULE = 'appointment/not-accepted'
const ADDED = 'added'
const SUGGESTED = 'suggested '

/** That it was squeezed in, as it is kept beside the appointment: by whom and when. */
export const makeAdded = (id: Appointment['id']) => ({
  rule: RULE,
  about: `appointment:${id}`,
  answer: ADDED,
})
/** Another time, as the chair team suggests it. */
export const makeSuggested = (id: Appointment['id'], startsAt: ClockTime) => ({
  rule: RULE,
  about: `appointment:${id}`,
  answer: `${SUGGESTED}${startsAt}`,
})

const answersOf = (choice: Pick<IsolationChoice, 'answers'> | null): Kept[] =>
  choice?.answers.filter(({ rule }) => rule === RULE) ?? []

/** When it was added, on the clock of its own place; null: nobody noted it. */
export function addedAt(
  choice: IsolationChoice | null,
  { zone }: Pick<Appointment, 'zone'>,
): ClockTime | null {
  const at: Instant | undefined = answersOf(choice).find(({ answer }) => answer === ADDED)?.at
  return at === undefined ? null : clockTimeOf(at, zone)
}

/** The time the chair team suggested last, or null. */
export const suggestedTime = (choice: IsolationChoice | null): ClockTime | null => {
  const last = answersOf(choice).findLast(({ answer }) => answer.startsWith(SUGGESTED))
  return last ? parseClockTime(last.answer.slice(SUGGESTED.length)) : null
}

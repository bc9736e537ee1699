import type { DayOf } from '#app/_live/day-of.ts'
import type { PersonsDay, VisitOf } from '#server/trpc/roster-router.ts'
import type { Day } from '#shared/base/moment.ts'

/** Somebody on a day of a roster, and the visits that stand with them. */
export interface OfPerson {
  person: PersonsDay
  visits: VisitOf[]
  of: DayOf
  day: Day
}

import { z } from 'zod'
import { type ClockTime, type Day, type Instant, instant, parseClockTime, parseDay } from './base/moment.ts'
import { parseId } from './ids.ts'

/** An id of a kind that the place it stands in says. */
export const id = <Id extends string>() =>
  z.custom<Id>((value) => typeof value === 'string' && parseId(value) !== null, 'not an id')

/** `YYYY-MM-DD` that is in the calendar. */
export const day = z.custom<Day>(
  (value) => typeof value === 'string' && parseDay(value) !== null,
  'not a day',
)

/** `HH:MM` of a 24 h clock. */
export const clockTime = z.custom<ClockTime>(
  (value) => typeof value === 'string' && parseClockTime(value) !== null,
  'not a clock time',
)

/** Epoch milliseconds. */
export const instantMs = z.int().transform((value): Instant => instant(value))

/** What the screen showed when it was answered there, by its key in `readiness/shown.ts`; null: no screen asked. */
export const saw = z.string().max(80).nullable().default(null)

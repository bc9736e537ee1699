import { z } from 'zod'
import { type Day, type Instant, instant, parseDay } from '#shared/base/moment.ts'
import { parseId } from '#shared/ids.ts'

/** An id of a kind that the place it stands in says. */
export const idOf = <Id extends string>() =>
  z.custom<Id>((value) => typeof value === 'string' && parseId(value) !== null, 'not an id')
export const dayText = z.custom<Day>(
  (value) => typeof value === 'string' && parseDay(value) !== null,
  'not a day',
)
export const instantMs = z.int().transform((value): Instant => instant(value))

import {
  type ClockTime,
  clockTimeOf,
  type Day,
  dayOf,
  type Instant,
  instant,
  parseDay,
  type Zone,
} from '#shared/base/moment.ts'
import type { IncomingAllergy } from '#shared/schedule/incoming.ts'
import { localInstant } from '#shared/schedule/local-time.ts'

const STAMP = /^(\d{4}-\d{2}-\d{2})[T ](\d{2}:\d{2}(?::\d{2}(?:\.\d{1,9})?)?)\s?(Z|[+-]\d{2}:?\d{2})$/i

/** An ISO 8601 date and time with its offset; null without one: then it is local and not yet an instant. */
export function parseStamp(text: string): Instant | null {
  const found = STAMP.exec(text.trim())
  if (!found || parseDay(found[1] ?? '') === null) return null
  const [, day, time, offset = 'Z'] = found
  const plainOffset = /^[+-]\d{4}$/.test(offset)
    ? `${offset.slice(0, 3)}:${offset.slice(3)}`
    : offset.toUpperCase()
  const at = Date.parse(`${day}T${time}${plainOffset}`)
  return Number.isNaN(at) ? null : instant(at)
}

/** An instant as the clinic's clock shows it, to the minute. */
export function inZone(at: Instant, zone: Zone): { day: Day; time: ClockTime; start: Instant } {
  const start = instant(Math.floor(at / 60_000) * 60_000)
  return { day: dayOf(start, zone), time: clockTimeOf(start, zone), start }
}

type Asked = Extract<IncomingAllergy, { kind: 'text' }>['asked']

/** A day on which a patient was asked: the noon of it, where no time is said. */
export function askedOn(day: Day, zone: Zone): Asked {
  const noon = localInstant(day, '12:00' as ClockTime, zone)
  return noon.ok ? { by: null, at: noon.value, day } : null
}

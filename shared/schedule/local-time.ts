import { Temporal } from 'temporal-polyfill'
import { type ClockTime, type Day, type Instant, instant, type Zone } from '../base/moment.ts'
import { ok, type Result, refuse } from '../base/result.ts'

/** Why a local time has no instant: the clocks jump over it that day, or the zone is not an IANA id. */
export type LocalTimeRefusal = 'gap' | 'unknown-zone'

/** Whether a text is a time zone that this machine's zone data know. */
export const isZone = (text: string): text is Zone => canonicalZone(text) !== null

/** The IANA id of a zone as this machine spells it, case and renames put right; null where it is not one. */
export function canonicalZone(text: string): Zone | null {
  // An offset is no zone: it says nothing of the clock on another day.
  if (!/^[A-Za-z][A-Za-z0-9_+/-]*$/.test(text)) return null
  try {
    return new Intl.DateTimeFormat('en', { timeZone: text }).resolvedOptions().timeZone as Zone
  } catch {
    return null
  }
}

/**
 * The one place where a local time becomes an instant. A time that comes twice is its first coming
 * (RFC 5545 section 3.3.5, READ); a time the clocks jump over is refused: a person is asked, nothing is guessed.
 */
export function localInstant(day: Day, time: ClockTime, zone: Zone): Result<Instant, LocalTimeRefusal> {
  const zoned = zonedOf(day, time, zone)
  if (zoned === null) return refuse('unknown-zone')
  const meant = Temporal.PlainDateTime.from(`${day}T${time}`)
  return zoned.toPlainDateTime().equals(meant) ? ok(instant(zoned.epochMilliseconds)) : refuse('gap')
}

/** As calendar files mean it: a time the clocks jump over takes the offset before the gap (RFC 5545 section 3.3.5, READ). */
export function calendarInstant(day: Day, time: ClockTime, zone: Zone): Result<Instant, 'unknown-zone'> {
  const zoned = zonedOf(day, time, zone)
  return zoned === null ? refuse('unknown-zone') : ok(instant(zoned.epochMilliseconds))
}

/** Temporal's "compatible" choice is RFC 5545's: the first of two, and in a gap the offset before it. */
function zonedOf(day: Day, time: ClockTime, zone: Zone): Temporal.ZonedDateTime | null {
  try {
    return Temporal.PlainDateTime.from(`${day}T${time}`).toZonedDateTime(zone)
  } catch {
    return null
  }
}

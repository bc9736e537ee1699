import type { Brand } from './brand.ts'

/** Epoch milliseconds. Outside the house an instant is ISO 8601 with offset. */
export type Instant = Brand<number, 'Instant'>
/** Whole minutes. */
export type Minutes = number
/** A local calendar day, `YYYY-MM-DD`. */
export type Day = Brand<string, 'Day'>
/** A local clock time, `HH:MM`. */
export type ClockTime = Brand<string, 'ClockTime'>
/** An IANA time zone id. */
export type Zone = Brand<string, 'Zone'>

export const MINUTE = 60_000

export const instant = (epochMilliseconds: number): Instant => Math.trunc(epochMilliseconds) as Instant
export const addMinutes = (at: Instant, minutes: Minutes): Instant => instant(at + minutes * MINUTE)
/** Whole minutes from `from` to `to`, rounded down; negative when `to` is earlier. */
export const minutesBetween = (from: Instant, to: Instant): Minutes => Math.floor((to - from) / MINUTE)

const DAY = /^(\d{4})-(\d{2})-(\d{2})$/
const CLOCK_TIME = /^([01]\d|2[0-3]):[0-5]\d$/

/** A real day of the proleptic Gregorian calendar, or null. */
export function parseDay(text: string): Day | null {
  const [, year, month, day] = DAY.exec(text) ?? []
  if (year === undefined) return null
  const date = new Date(Date.UTC(Number(year), Number(month) - 1, Number(day)))
  return date.toISOString().startsWith(text) ? (text as Day) : null
}

export const parseClockTime = (text: string): ClockTime | null =>
  CLOCK_TIME.test(text) ? (text as ClockTime) : null

/** The local day of an instant in a zone. */
export const dayOf = (at: Instant, zone: Zone): Day => dayFormat(zone).format(at) as Day
/** The local clock time of an instant in a zone, `HH:MM`. */
export const clockTimeOf = (at: Instant, zone: Zone): ClockTime => timeFormat(zone).format(at) as ClockTime

/** The clock time so many minutes after another, round the clock; right unless the clocks are changed in between. */
export function clockTimeAfter(time: ClockTime, minutes: Minutes): ClockTime {
  const after = Number(time.slice(0, 2)) * 60 + Number(time.slice(3)) + minutes
  const ofDay = ((after % DAY_MINUTES) + DAY_MINUTES) % DAY_MINUTES
  const two = (part: number): string => String(part).padStart(2, '0')
  return `${two(Math.floor(ofDay / 60))}:${two(ofDay % 60)}` as ClockTime
}
const DAY_MINUTES = 24 * 60

/** So many days after a day; before it where they are negative. */
export const dayAfter = (day: Day, days: number): Day =>
  new Date(Date.parse(`${day}T00:00:00Z`) + days * DAY_MINUTES * MINUTE).toISOString().slice(0, 10) as Day

/** The Monday of a day's week. */
export function mondayOf(day: Day): Day {
  const at = Date.parse(`${day}T00:00:00Z`)
  const since = (new Date(at).getUTCDay() + 6) % 7
  return new Date(at - since * DAY_MINUTES * MINUTE).toISOString().slice(0, 10) as Day
}

/** Whole years between a birth day and a day; null where a day is unknown. */
export function ageInYears(born: Day | null, on: Day): number | null {
  if (born === null) return null
  const years = Number(on.slice(0, 4)) - Number(born.slice(0, 4))
  return on.slice(5) < born.slice(5) ? years - 1 : years
}

/** Whole months between a birth day and a day; null where a day is unknown. */
export function ageInMonths(born: Day | null, on: Day): number | null {
  if (born === null) return null
  const months = (day: Day): number => Number(day.slice(0, 4)) * 12 + Number(day.slice(5, 7))
  return months(on) - months(born) - (on.slice(8) < born.slice(8) ? 1 : 0)
}

const remember = <T>(make: (zone: Zone) => T) => {
  const made = new Map<Zone, T>()
  return (zone: Zone): T => {
    const found = made.get(zone)
    if (found) return found
    const fresh = make(zone)
    made.set(zone, fresh)
    return fresh
  }
}
const dayFormat = remember(
  (timeZone) =>
    new Intl.DateTimeFormat('sv-SE', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit' }),
)
const timeFormat = remember(
  (timeZone) =>
    new Intl.DateTimeFormat('en-GB', { timeZone, hour: '2-digit', minute: '2-digit', hourCycle: 'h23' }),
)

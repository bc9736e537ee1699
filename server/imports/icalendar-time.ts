import { RRuleTemporal } from 'rrule-temporal'
import { Temporal } from 'temporal-polyfill'
import { findIana } from 'windows-iana'
import { type ClockTime, type Day, type Instant, instant, parseDay, type Zone } from '#shared/base/moment.ts'
import { calendarInstant, canonicalZone } from '#shared/schedule/local-time.ts'
import { type Component, type Property, propertyOf } from './icalendar-lines.ts'

/** Wall-clock time, before a zone makes it an instant. */
export interface Wall {
  day: Day
  time: ClockTime
}

/** How a calendar's local times become instants. */
export interface Clock {
  /** The IANA zone, or null for a zone that only the file itself defines. */
  zone: Zone | null
  toInstant: (wall: Wall) => Instant
}

/** A point of time as a calendar writes it. `kind` says which of the three kinds of time it is, or a whole day. */
export type CalendarTime =
  | { kind: 'day'; day: Day }
  | { kind: 'utc'; at: Instant }
  | { kind: 'zoned' | 'floating'; wall: Wall; clock: Clock; at: Instant }
  | { kind: 'unknown-zone'; tzid: string }
  | { kind: 'unreadable'; text: string }

/** Zones by the name the file gives them. */
export interface Zones {
  own: Zone
  find: (tzid: string) => Clock | null
}

const MINUTE = 60_000

export const clockOfZone = (zone: Zone): Clock => ({
  zone,
  toInstant: ({ day, time }) => {
    const at = calendarInstant(day, time, zone)
    if (!at.ok) throw new Error(`Bug: ${zone} was a zone before`)
    return at.value
  },
})

/** Names are looked for as an IANA id, as a Windows name (CLDR), in the file's own definitions, and never guessed. */
export function openZones(calendar: Component, own: Zone): Zones {
  const defined = new Map(
    calendar.components
      .filter(({ name }) => name === 'VTIMEZONE')
      .map((component) => [propertyOf(component, 'TZID')?.value.trim() ?? '', component]),
  )
  const known = new Map<string, Clock | null>()
  return {
    own,
    find: (tzid) => {
      const found = known.get(tzid)
      if (found !== undefined) return found
      const made = findClock(tzid, defined)
      known.set(tzid, made)
      return made
    },
  }
}

function findClock(tzid: string, defined: Map<string, Component>): Clock | null {
  const zone = ianaOf(tzid)
  if (zone) return clockOfZone(zone)
  const component = defined.get(tzid)
  if (component === undefined || tzid === '') return null
  const located = ianaOf(propertyOf(component, 'X-LIC-LOCATION')?.value ?? '')
  return located ? clockOfZone(located) : clockOfRules(component)
}

/** An IANA id, also behind the prefix of a globally unique name, or the first zone of a Windows name. */
function ianaOf(tzid: string): Zone | null {
  const plain = tzid.trim()
  const tail = /^\/.*?\/((?:[A-Z][A-Za-z_+-]+\/)?[A-Z][A-Za-z_+-]+\/[A-Z][A-Za-z_+-]+)$/.exec(plain)?.[1]
  const [windows] = plain === '' ? [] : findIana(plain)
  return (
    canonicalZone(plain) ??
    (tail === undefined ? null : canonicalZone(tail)) ??
    (windows === undefined ? null : canonicalZone(windows))
  )
}

interface Shift {
  at: number
  from: number
  to: number
}

/** A zone by its own STANDARD and DAYLIGHT rules (RFC 5545 section 3.6.5). */
function clockOfRules(component: Component): Clock | null {
  const parts = component.components.filter(({ name }) => name === 'STANDARD' || name === 'DAYLIGHT')
  if (parts.length === 0 || parts.some((part) => offsetsOf(part) === null)) return null
  const years = new Map<number, Shift[]>()
  const shiftsOf = (year: number): Shift[] => {
    const known = years.get(year)
    if (known) return known
    const made = parts.flatMap((part) => shiftsIn(part, year)).sort((one, other) => one.at - other.at)
    years.set(year, made)
    return made
  }
  return { zone: null, toInstant: (wall) => instantByShifts(wall, shiftsOf(Number(wall.day.slice(0, 4)))) }
}

const OFFSET = /^([+-])(\d{2})(\d{2})(\d{2})?$/
function offsetOf(text: string | undefined): number | null {
  const found = OFFSET.exec(text?.trim() ?? '')
  if (!found) return null
  const minutes = Number(found[2]) * 60 + Number(found[3])
  return (found[1] === '-' ? -minutes : minutes) * MINUTE
}
function offsetsOf(part: Component): { from: number; to: number } | null {
  const from = offsetOf(propertyOf(part, 'TZOFFSETFROM')?.value)
  const to = offsetOf(propertyOf(part, 'TZOFFSETTO')?.value)
  return from === null || to === null ? null : { from, to }
}

/** The shifts of the year and the one before it, and the very first. */
function shiftsIn(part: Component, year: number): Shift[] {
  const offsets = offsetsOf(part)
  const first = wallOf(propertyOf(part, 'DTSTART')?.value ?? '')
  if (offsets === null || first === null) return []
  const rule = propertyOf(part, 'RRULE')?.value
  const window = {
    from: epochOf({ day: `${year - 1}-01-01` as Day, time: '00:00' as ClockTime }),
    to: epochOf({ day: `${year + 1}-12-31` as Day, time: '00:00' as ClockTime }),
  }
  const onsets = rule === undefined ? [epochOf(first)] : expandRule(rule, first, window)
  return onsets.map((local) => ({ at: local - offsets.from, ...offsets }))
}

/** The first of two readings; in a gap the offset before it. */
function instantByShifts(wall: Wall, shifts: Shift[]): Instant {
  const local = epochOf(wall)
  const starts = [{ at: Number.NEGATIVE_INFINITY, to: shifts[0]?.from ?? 0 }, ...shifts]
  for (const [index, { at, to }] of starts.entries()) {
    const until = starts[index + 1]?.at ?? Number.POSITIVE_INFINITY
    if (local - to >= at && local - to < until) return instant(local - to)
  }
  const gap = shifts.find(({ at, from, to }) => local - from >= at && local - to < at)
  return instant(local - (gap?.from ?? 0))
}

/** Wall-clock time counted as if it were UTC. */
export const epochOf = ({ day, time }: Wall): number => Date.parse(`${day}T${time}:00Z`)
export const wallAt = (epoch: number): Wall => {
  const text = new Date(epoch).toISOString()
  return { day: text.slice(0, 10) as Day, time: text.slice(11, 16) as ClockTime }
}

const DATE_TIME = /^(\d{4})(\d{2})(\d{2})T(\d{2})(\d{2})(\d{2})?$/
function wallOf(text: string): Wall | null {
  const found = DATE_TIME.exec(text.trim().replace(/Z$/, ''))
  const day = found && parseDay(`${found[1]}-${found[2]}-${found[3]}`)
  if (!found || !day || Number(found[4]) > 23 || Number(found[5]) > 59) return null
  return { day, time: `${found[4]}:${found[5]}` as ClockTime }
}

/** A value of DTSTART and its kind. */
export function parseTime(value: string, params: Property['params'], zones: Zones): CalendarTime {
  const text = value.trim()
  const date = /^(\d{4})(\d{2})(\d{2})$/.exec(text)
  if (date) {
    const day = parseDay(`${date[1]}-${date[2]}-${date[3]}`)
    return day ? { kind: 'day', day } : { kind: 'unreadable', text }
  }
  const wall = wallOf(text)
  if (wall === null) return { kind: 'unreadable', text }
  if (text.endsWith('Z')) return { kind: 'utc', at: instant(epochOf(wall)) }
  const { TZID } = params
  const clock = TZID === undefined ? clockOfZone(zones.own) : zones.find(TZID)
  if (clock === null) return { kind: 'unknown-zone', tzid: TZID ?? '' }
  return { kind: TZID === undefined ? 'floating' : 'zoned', wall, clock, at: clock.toInstant(wall) }
}

/** `PT1H30M` and its kin, in milliseconds; null where it is none. */
export function parseDuration(text: string): number | null {
  try {
    return Temporal.Duration.from(text.trim()).total({
      unit: 'milliseconds',
      relativeTo: Temporal.PlainDate.from('2026-01-01'),
    })
  } catch {
    return null
  }
}

export const MOST_INSTANCES = 2000

/** Why a rule is not written out. */
export class RuleRefused extends Error {}

/**
 * The wall-clock starts of a series within a window, as epochs of pseudo-UTC: the clock of the wall does not jump,
 * and each start becomes an instant afterwards. Bounded: no rule of less than a day, no more than MOST_INSTANCES.
 */
export function expandRule(rule: string, first: Wall, window: { from: number; to: number }): number[] {
  if (/FREQ=(SECONDLY|MINUTELY|HOURLY)/i.test(rule))
    throw new RuleRefused('it repeats more often than once a day')
  const dtstart = Temporal.ZonedDateTime.from(`${first.day}T${first.time}:00[UTC]`)
  // UNTIL is an instant; it is compared with instants, not with the wall.
  const plain = rule.replace(/(^|;)UNTIL=[^;]*/i, '').replace(/^;/, '')
  const made = new RRuleTemporal({ rruleString: plain, dtstart, maxIterations: 20_000 })
  const starts = made
    .between(new Date(window.from), new Date(window.to), true)
    .map((start) => start.epochMilliseconds)
  if (starts.length > MOST_INSTANCES) throw new RuleRefused(`it has more than ${MOST_INSTANCES} days`)
  return starts
}

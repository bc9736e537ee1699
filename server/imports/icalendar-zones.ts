import { findIana } from 'windows-iana'
import { type ClockTime, type Day, type Instant, instant, parseDay, type Zone } from '#shared/base/moment.ts'
import { calendarInstant, canonicalZone } from '#shared/schedule/local-time.ts'
import { type Component, propertiesOf, propertyOf } from './icalendar-lines.ts'
import { epochOf, expandRule, openEffort, parseRule, SeriesRefused, type Wall } from './icalendar-rule.ts'

/** How a calendar's local times become instants. */
export interface Clock {
  /** The IANA zone, or null for a zone that only the file itself defines. */
  zone: Zone | null
  toInstant: (wall: Wall) => Instant
}

/** Zones by the name the file gives them. */
export interface Zones {
  own: Zone
  find: (tzid: string) => Clock | null
}

export const clockOfZone = (zone: Zone): Clock => ({
  zone,
  toInstant: ({ day, time }) => {
    const at = calendarInstant(day, time, zone)
    if (!at.ok) throw new Error(`Bug: ${zone} was a zone before`)
    return at.value
  },
})

/**
 * A name that is a place ("Europe/Berlin") means that place. Any other name means what the file itself defines by it
 * (RFC 5545 section 3.6.5, READ), else an IANA id or a Windows name (CLDR). It is never guessed.
 */
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
  if (zone && tzid.includes('/')) return clockOfZone(zone)
  const component = tzid === '' ? undefined : defined.get(tzid)
  return (component ? clockOf(component) : null) ?? (zone ? clockOfZone(zone) : null)
}

function clockOf(component: Component): Clock | null {
  const located = ianaOf(propertyOf(component, 'X-LIC-LOCATION')?.value ?? '')
  return located?.includes('/') ? clockOfZone(located) : clockOfRules(component)
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

/** The clocks go from one offset to another, at an instant. */
interface Shift {
  at: number
  from: number
  to: number
}

/** One STANDARD or DAYLIGHT of a zone: from when on, by which rule, from and to which offset. */
interface Observance {
  first: Wall
  offsets: { from: number; to: number }
  rule: ReturnType<typeof parseRule> | null
  /** The end of the rule on the wall clock before the shift; later than all where it has none. */
  until: number
  /** Onsets given one by one, on the wall clock before the shift. */
  dates: number[]
}

/** A zone by its own STANDARD and DAYLIGHT rules; null where one of them cannot be read. */
function clockOfRules(component: Component): Clock | null {
  const parts = component.components.filter(({ name }) => name === 'STANDARD' || name === 'DAYLIGHT')
  const read = parts.flatMap((part) => observanceOf(part) ?? [])
  if (parts.length === 0 || read.length < parts.length) return null
  const years = new Map<number, Shift[]>()
  const shiftsOf = (year: number): Shift[] => {
    const known = years.get(year)
    if (known) return known
    const made = read.flatMap((part) => shiftsOfPart(part, year)).sort((one, other) => one.at - other.at)
    years.set(year, made)
    return made
  }
  return { zone: null, toInstant: (wall) => instantByShifts(wall, shiftsOf(Number(wall.day.slice(0, 4)))) }
}

function observanceOf(part: Component): Observance | null {
  const from = offsetOf(propertyOf(part, 'TZOFFSETFROM')?.value)
  const to = offsetOf(propertyOf(part, 'TZOFFSETTO')?.value)
  const first = wallOf(propertyOf(part, 'DTSTART')?.value ?? '')
  const dates = propertiesOf(part, 'RDATE').flatMap(({ value }) => value.split(',').map(wallOf))
  const rules = propertiesOf(part, 'RRULE')
  if (from === null || to === null || first === null || rules.length > 1) return null
  try {
    const rule = rules[0] ? parseRule(rules[0].value) : null
    const until = rule?.until == null ? Number.POSITIVE_INFINITY : untilOf(rule.until, from)
    if (until === null) return null
    const whole = dates.map((each) => (each ? epochOf(each) : null))
    return whole.includes(null)
      ? null
      : { first, offsets: { from, to }, rule, until, dates: whole.filter((at) => at !== null) }
  } catch (error) {
    if (error instanceof SeriesRefused) return null
    throw error
  }
}

const OFFSET = /^([+-])(\d{2})(\d{2})(\d{2})?$/
function offsetOf(text: string | undefined): number | null {
  const found = OFFSET.exec(text?.trim() ?? '')
  if (!found) return null
  const seconds = Number(found[2]) * 3600 + Number(found[3]) * 60 + Number(found[4] ?? 0)
  return (found[1] === '-' ? -seconds : seconds) * 1000
}

/** UNTIL of a zone's rule is in UTC; some write the wall clock, or a day alone. */
function untilOf(text: string, from: number): number | null {
  const day = /^\d{8}$/.test(text) ? wallOf(`${text}T235900`) : null
  const wall = day ?? wallOf(text)
  return wall && epochOf(wall) + (text.endsWith('Z') ? from : 0)
}

const YEARS_BACK = 6
const dayOfYear = (year: number, day: string): number => Date.parse(`${String(year).padStart(4, '0')}-${day}`)

/** The shifts up to the end of the year after, as far back as one that still holds can lie. */
function shiftsOfPart({ first, offsets, rule, until, dates }: Observance, year: number): Shift[] {
  const to = Math.min(dayOfYear(year + 1, '12-31'), until)
  // The last years of a rule that has ended; of one that goes on, the last before this year.
  const from = dayOfYear(Math.max(0, new Date(to).getUTCFullYear() - YEARS_BACK), '01-01')
  const ruled = rule === null ? [] : expandRule(rule, first, { from, to, effort: openEffort() })
  const onsets = new Set([epochOf(first), ...ruled, ...dates])
  return [...onsets].map((local) => ({ at: local - offsets.from, ...offsets }))
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

const DATE_TIME = /^(\d{4})(\d{2})(\d{2})T(\d{2})(\d{2})(\d{2})?$/
/** A date and time as a calendar writes it, its `Z` left aside. */
export function wallOf(text: string): Wall | null {
  const found = DATE_TIME.exec(text.trim().replace(/Z$/, ''))
  const day = found && parseDay(`${found[1]}-${found[2]}-${found[3]}`)
  if (!found || !day || Number(found[4]) > 23 || Number(found[5]) > 59) return null
  return { day, time: `${found[4]}:${found[5]}` as ClockTime }
}

/** A date alone. */
export const dayOf = (text: string): Day | null => {
  const date = /^(\d{4})(\d{2})(\d{2})$/.exec(text.trim())
  return date && parseDay(`${date[1]}-${date[2]}-${date[3]}`)
}

import { dayOf, type Instant, instant } from '#shared/base/moment.ts'
import { type Component, type Property, propertiesOf } from './icalendar-lines.ts'
import {
  type Effort,
  epochOf,
  expandRule,
  isOfRule,
  parseRule,
  type Rule,
  SeriesRefused,
  wallAt,
} from './icalendar-rule.ts'
import { type CalendarTime, parseDuration, parseTime } from './icalendar-time.ts'
import { wallOf, type Zones } from './icalendar-zones.ts'
import type { ReadOptions } from './incoming.ts'

/** The start of one of a series. */
export interface Occurrence {
  at: Instant
  /** On the clock of the series. */
  day: string
  /** In milliseconds, where the file gives it by itself (RDATE as a period); null: as long as the first. */
  length: number | null
}

/** The days of a series: all that it ever took within the period read, and those that stand. */
export interface Written {
  all: Occurrence[]
  standing: Occurrence[]
}

export const isSeries = (component: Component): boolean =>
  component.properties.some(({ name }) => name === 'RRULE' || name === 'RDATE' || name === 'EXRULE')

export const instantOf = (time: CalendarTime | null): number | null =>
  time === null || time.kind === 'unknown-zone' || time.kind === 'unreadable'
    ? null
    : time.kind === 'day'
      ? Date.parse(`${time.day}T00:00:00Z`)
      : time.at

const DAY_MS = 86_400_000

/** Without a period of its own a series is read for a year from its start. */
export const spanOf = (first: number, { window }: ReadOptions): { from: number; to: number } =>
  window
    ? {
        from: Math.max(first, Date.parse(`${window.from}T00:00:00Z`) - DAY_MS),
        to: Date.parse(`${window.to}T00:00:00Z`) + 2 * DAY_MS,
      }
    : { from: first, to: first + 366 * DAY_MS }

export type TimedStart = Extract<CalendarTime, { at: Instant }>

interface Around {
  first: TimedStart
  zones: Zones
  options: ReadOptions
  effort: Effort
}

/**
 * The starts of a series (RFC 5545 section 3.8.5, READ): its rule and further dates, no later than UNTIL, less its
 * exceptions. What of it cannot be read is refused: a day that nobody can tell apart is not booked on a guess.
 */
export function writeSeries(component: Component, around: Around): Written {
  const added = propertiesOf(component, 'RDATE').flatMap((property) => addedBy(property, around))
  const left = propertiesOf(component, 'EXDATE').flatMap((property) => leftBy(property, around))
  const leftDays = new Set(left.flatMap((each) => (each.kind === 'day' ? [each.day as string] : [])))
  const leftInstants = new Set(left.map(instantOf))
  const all = new Map(ruledBy(component, around).map((each) => [each.at, each]))
  for (const each of added) all.set(each.at, each)
  const sorted = [...all.values()].sort((one, other) => one.at - other.at)
  return {
    all: sorted,
    standing: sorted.filter(({ at, day }) => !leftDays.has(day) && !leftInstants.has(at)),
  }
}

/** The clock of the series: of a start in UTC, UTC. */
const toInstantOf = (first: TimedStart) => ('clock' in first ? first.clock.toInstant : epochOf)
const wallOfStart = (first: TimedStart) => ('wall' in first ? first.wall : wallAt(first.at))

function ruledBy(component: Component, { first, options, effort }: Around): Occurrence[] {
  const [exception] = propertiesOf(component, 'EXRULE')
  if (exception) throw new SeriesRefused('it leaves out days by a rule, which is not read here', exception)
  const [written, second] = propertiesOf(component, 'RRULE')
  if (second) throw new SeriesRefused('it has more than one rule', second)
  const wall = wallOfStart(first)
  if (written === undefined) return [{ at: first.at, day: wall.day, length: null }]
  const rule = parseRule(written.value)
  const until = untilOf(rule, first)
  if (!isOfRule(rule, wall)) throw new SeriesRefused('its first day is none of its own rule', written)
  const span = spanOf(epochOf(wall), options)
  const toInstant = toInstantOf(first)
  return expandRule(rule, wall, { from: span.from, to: Math.min(span.to, until + DAY_MS), effort })
    .map((epoch) => ({ at: instant(toInstant(wallAt(epoch))), day: wallAt(epoch).day, length: null }))
    .filter(({ at }) => at <= until)
}

/** UNTIL in UTC is inclusive; a date alone means the end of that day where the series is. */
function untilOf({ until: text }: Rule, first: TimedStart): number {
  if (text === null) return Number.POSITIVE_INFINITY
  const wall = wallOf(/^\d{8}$/.test(text) ? `${text}T235900` : text)
  if (wall === null) throw new SeriesRefused('UNTIL of its rule cannot be read')
  return text.endsWith('Z') ? epochOf(wall) : toInstantOf(first)(wall)
}

/** The dates of RDATE within the period read; each a time, or a period with its own length (section 3.8.5.2, READ). */
function addedBy(property: Property, { first, zones, options, effort }: Around): Occurrence[] {
  const span = options.window ? spanOf(Number.NEGATIVE_INFINITY, options) : null
  return property.value.split(',').flatMap((text) => {
    const [start = '', end, ...more] = text.split('/')
    const time = parseTime(start, property.params, zones)
    if (!('at' in time) || more.length > 0)
      throw new SeriesRefused(`one of its further dates, "${text.slice(0, 40)}", cannot be read`, property)
    const length = end === undefined ? null : lengthOf(end, time, { property, zones })
    if (span && (time.at < span.from || time.at > span.to)) return []
    effort.visits -= 1
    if (effort.visits < 0) throw new SeriesRefused('the series of the file hold too many days')
    return [{ at: time.at, day: dayIn(time, first), length }]
  })
}

/** The day of a further date on the clock of the series; of a zone that only the file knows, its own. */
const dayIn = (time: TimedStart, first: TimedStart): string =>
  'clock' in first && first.clock.zone !== null ? dayOf(time.at, first.clock.zone) : wallOfStart(time).day

function lengthOf(
  text: string,
  start: TimedStart,
  { property, zones }: { property: Property; zones: Zones },
): number {
  const end = parseTime(text, property.params, zones)
  const length = 'at' in end ? end.at - start.at : parseDuration(text)
  if (length === null)
    throw new SeriesRefused('the length of one of its further dates cannot be read', property)
  return length
}

function leftBy(property: Property, { zones }: Around): CalendarTime[] {
  return property.value.split(',').map((text) => {
    const time = parseTime(text, property.params, zones)
    if (instantOf(time) === null)
      throw new SeriesRefused(`a day that it leaves out, "${text.slice(0, 40)}", cannot be read`, property)
    return time
  })
}

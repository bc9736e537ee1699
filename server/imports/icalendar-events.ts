import { type Instant, instant } from '#shared/base/moment.ts'
import type { Version } from '#shared/schedule/appointment.ts'
import type { Ending } from '#shared/schedule/import-batch.ts'
import { compareVersions } from '#shared/schedule/import-versions.ts'
import type { IncomingProblem, PassedOver } from '#shared/schedule/incoming.ts'
import { LOST, lostLetter, sayLetters } from './decode.ts'
import { type Component, parseComponents, propertyOf, textOf } from './icalendar-lines.ts'
import { type Effort, epochOf, openEffort, SeriesRefused } from './icalendar-rule.ts'
import {
  instantOf,
  isSeries,
  spanOf,
  type TimedStart,
  type Written,
  writeSeries,
} from './icalendar-series.ts'
import { type CalendarTime, parseDuration, parseTime } from './icalendar-time.ts'
import { BROKEN, NO_END, noBooking, noCalendar, refusalOf, STRAY, type Three } from './icalendar-words.ts'
import { openZones, type Zones } from './icalendar-zones.ts'
import { problemOf, type ReadOptions } from './incoming.ts'
import { parseStamp } from './moments.ts'

/** One event, or one of a series, with its instants. */
export interface CalendarEvent {
  component: Component
  uid: string
  /** The original start of one of a series, ISO 8601 in UTC to the minute; empty for an event by itself. */
  recurrenceKey: string
  sequence: number | null
  stamp: Instant | null
  /** The version of the whole that the file gives of this UID; null for one day of a series that came alone. */
  whole: Version | null
  cancelled: boolean
  tentative: boolean
  start: Instant
  end: Instant
  /** Neither `Z` nor TZID: taken to be in the clinic's zone. */
  floating: boolean
}

export interface Calendar {
  events: CalendarEvent[]
  rows: number
  problems: IncomingProblem[]
  passedOver: PassedOver[]
  assumed: string[]
  /** Letters of it are lost, each of which stands as U+FFFD. */
  damaged: boolean
  /** Whether it ends where a calendar ends: what breaks off speaks for no day whole. */
  closed: boolean
  /** Whether it asks or answers somebody (RFC 5546): then it is about its own events alone. */
  asks: boolean
}

/** Every event of a file, series written out, exceptions in their places. */
export function readCalendar(bytes: Uint8Array, options: ReadOptions): Calendar {
  const { components, letters } = parseComponents(bytes)
  const calendar: Calendar = {
    events: [],
    rows: 0,
    problems: [],
    passedOver: [],
    assumed: sayLetters(letters),
    damaged: letters.damaged,
    closed: true,
    asks: false,
  }
  const calendars = components.filter(({ name }) => name === 'VCALENDAR')
  if (calendars.length === 0) calendar.problems.push(noCalendar())
  const effort = openEffort()
  for (const component of calendars) readOne(calendar, component, { options, effort })
  return calendar
}

/** An event as it stands in the file: a whole, or with `recurrence` the change of one day of a series. */
interface Master {
  component: Component
  uid: string
  recurrence: CalendarTime | null
  sequence: number | null
  stamp: Instant | null
}

/** What is known while one calendar of a file is read. */
interface Reading {
  calendar: Calendar
  cancels: boolean
  zones: Zones
  options: ReadOptions
  effort: Effort
}

const METHODS = ['', 'PUBLISH', 'REQUEST', 'CANCEL']

function readOne(
  calendar: Calendar,
  component: Component,
  { options, effort }: Pick<Reading, 'options' | 'effort'>,
): void {
  const method = textOf(component, 'METHOD').trim().toUpperCase()
  const zones = openZones(component, options.zone)
  const reading: Reading = { calendar, cancels: method === 'CANCEL', zones, options, effort }
  if (method !== '' && method !== 'PUBLISH') calendar.asks = true
  const inside = component.components.filter(({ name }) => name !== 'VTIMEZONE')
  calendar.rows += inside.length
  const masters = inside.flatMap((each) => {
    if (each.name !== 'VEVENT') {
      calendar.passedOver.push({ line: each.line, why: `${each.name} is not read here` })
      return []
    }
    if (!each.closed) return tell(calendar, each, 'file', BROKEN)
    return METHODS.includes(method)
      ? [masterOf(each, zones)]
      : tell(calendar, each, 'METHOD', noBooking(method))
  })
  if (!component.closed) calendar.closed = false
  if (!component.closed && inside.every(({ closed }) => closed))
    calendar.assumed.push('The file breaks off after its last whole event.')
  placeAll(reading, newestOf(calendar, masters))
}

/** Each whole with the changes of its days; changes whose series is in another file stand by themselves. */
function placeAll(reading: Reading, masters: readonly Master[]): void {
  const { calendar } = reading
  for (const { component } of masters)
    if (isLost(calendar, component)) tell(calendar, component, 'row', lostLetter('event'))
  const changes = new Map<string, Master[]>()
  for (const each of masters)
    if (each.recurrence) changes.set(each.uid, [...(changes.get(each.uid) ?? []), each])
  for (const master of masters.filter(({ recurrence }) => recurrence === null)) {
    placeWhole(reading, master, changes.get(master.uid) ?? [])
    changes.delete(master.uid)
  }
  for (const each of [...changes.values()].flat())
    if (isUnplaced(each)) tell(calendar, each.component, 'RECURRENCE-ID', noDay(each))
    else addEvent(reading, each, { key: keyOf(instantOf(each.recurrence)), whole: null })
}

const isLost = ({ damaged }: Calendar, { original }: Component): boolean => damaged && original.includes(LOST)

/** Puts a component among the problems; gives nothing to go on with. */
function tell(
  calendar: Calendar,
  component: Component,
  field: string,
  parts: Three,
  ends: Ending | null = null,
): never[] {
  const { line, original } = component
  const externalId = textOf(component, 'UID').trim()
  calendar.problems.push(problemOf({ line, field, original, externalId, ends }, ...parts))
  return []
}
const masterOf = (component: Component, zones: Zones): Master => {
  const recurrence = propertyOf(component, 'RECURRENCE-ID')
  const counted = propertyOf(component, 'SEQUENCE')
  const sequence = Number(counted?.value ?? 0)
  const stamp = stampOf(component, 'LAST-MODIFIED') ?? stampOf(component, 'DTSTAMP')
  return {
    component,
    uid: textOf(component, 'UID').trim(),
    recurrence: recurrence ? parseTime(recurrence.value, recurrence.params, zones) : null,
    // One that has neither counts nothing: what it says now is the newest there is.
    sequence: counted === undefined && stamp === null ? null : Number.isSafeInteger(sequence) ? sequence : 0,
    stamp,
  }
}

function stampOf(component: Component, name: string): Instant | null {
  const found = /^(\d{4})(\d{2})(\d{2})T(\d{2})(\d{2})(\d{2})Z?$/.exec(
    propertyOf(component, name)?.value.trim() ?? '',
  )
  return found ? parseStamp(`${found[1]}-${found[2]}-${found[3]}T${found[4]}:${found[5]}:${found[6]}Z`) : null
}

/** Of several versions of one event the newest; of two that say the same, one. */
function newestOf(calendar: Calendar, masters: Master[]): Master[] {
  const groups = new Map<string, Master[]>()
  for (const master of masters) {
    const known = master.uid !== '' && !isUnplaced(master)
    const key = known
      ? `${master.uid}\n${keyOf(instantOf(master.recurrence))}`
      : `line ${master.component.line}`
    groups.set(key, [...(groups.get(key) ?? []), master])
  }
  return [...groups.values()].flatMap((group) => {
    const kept = group.filter((each) => group.every((other) => compareVersions(each, other) >= 0))
    const distinct = [...new Map(kept.map((each) => [each.component.original, each])).values()]
    for (const each of group)
      if (!distinct.includes(each))
        calendar.passedOver.push({
          line: each.component.line,
          why: 'an older or repeated version of the same event',
        })
    return distinct
  })
}

const keyOf = (at: number | null): string =>
  at === null ? '' : `${new Date(at).toISOString().slice(0, 16)}Z`

/** A change of which cannot be told which one visit it changes: RECURRENCE-ID must be a time of its series. */
const isUnplaced = ({ component, recurrence }: Master): boolean =>
  recurrence !== null &&
  (!('at' in recurrence) || propertyOf(component, 'RECURRENCE-ID')?.params.RANGE !== undefined)

const noDay = ({ component, recurrence }: Master): Three => [
  propertyOf(component, 'RECURRENCE-ID')?.params.RANGE !== undefined
    ? 'This changes all days of a series from one on.'
    : recurrence?.kind === 'unknown-zone'
      ? `This changes one day of a series, named in the time zone "${recurrence.tzid}", which is not known here.`
      : 'This changes one day of a series, and RECURRENCE-ID does not say which visit it is.',
  'Which visits it moves or cancels cannot be told for certain, so those it may mean were left as they were.',
  'Compare the series with the calendar it comes from, and enter what changed by hand.',
]

/** The times that an unplaced change may be about. */
type Doubt = (occurrence: Written['all'][number]) => boolean

const HOUR_MS = 3_600_000
/** A clock somewhere on earth is at most 14 hours ahead of UTC and 12 behind. */
function doubtOf({ component, recurrence }: Master): Doubt {
  const from = propertyOf(component, 'RECURRENCE-ID')?.params.RANGE !== undefined
  if (recurrence === null || recurrence.kind === 'unreadable') return () => true
  if (recurrence.kind === 'day') return ({ day }) => (from ? day >= recurrence.day : day === recurrence.day)
  const [first, last] =
    recurrence.kind === 'unknown-zone'
      ? [epochOf(recurrence.wall) - 14 * HOUR_MS, epochOf(recurrence.wall) + 12 * HOUR_MS]
      : [recurrence.at, recurrence.at]
  return ({ at }) => at >= first && (from || at <= last)
}

/** A whole and the changes of its days: an event by itself, or a series written out. */
function placeWhole(reading: Reading, master: Master, changes: readonly Master[]): void {
  const { calendar, zones } = reading
  const start = propertyOf(master.component, 'DTSTART')
  const first = start ? parseTime(start.value, start.params, zones) : null
  const whole: Version = { sequence: master.sequence, stamp: master.stamp }
  const unplaced = changes.filter(isUnplaced)
  const placed = changes.filter((each) => !isUnplaced(each))
  for (const each of unplaced) tell(calendar, each.component, 'RECURRENCE-ID', noDay(each))
  const written =
    first !== null && 'at' in first && isSeries(master.component) ? writeOrTell(reading, master, first) : null
  if (written === null) {
    if (first === null || !('at' in first) || !isSeries(master.component))
      addEvent(reading, master, { key: '', whole })
    for (const each of placed)
      addEvent(reading, each, { key: keyOf(instantOf(each.recurrence)), whole: null })
    return
  }
  placeDays(reading, master, { written, placed, doubts: unplaced.map(doubtOf), whole })
}

function writeOrTell(
  { calendar, zones, options, effort }: Reading,
  { component }: Master,
  first: TimedStart,
): Written | null {
  try {
    return writeSeries(component, { first, zones, options, effort })
  } catch (error) {
    if (!(error instanceof SeriesRefused)) throw error
    const [line, field] = [error.at?.line ?? component.line, error.at?.field ?? 'RRULE']
    tell(calendar, { ...component, line }, field, [
      `This series is not written out: ${error.message}.`,
      'Which days it takes cannot be told for certain.',
      'Export the single appointments, or enter those you need by hand.',
    ])
    return null
  }
}

interface Days {
  written: Written
  placed: readonly Master[]
  doubts: readonly Doubt[]
  whole: Version
}

function placeDays(reading: Reading, master: Master, { written, placed, doubts, whole }: Days): void {
  const { calendar } = reading
  const changed = new Map(placed.map((each) => [instantOf(each.recurrence), each]))
  const ever = new Set<number>(written.all.map(({ at }) => at))
  const strays = placed.filter((each) => isStray(each, reading, { written, changed, ever }))
  const strayDays = new Set(strays.map((each) => dayOfChange(each)))
  for (const each of strays) tell(calendar, each.component, 'RECURRENCE-ID', STRAY)
  let own = 0
  for (const occurrence of written.standing) {
    if (changed.has(occurrence.at) || strayDays.has(occurrence.day)) continue
    if (doubts.some((doubt) => doubt(occurrence))) continue
    const { at, length } = occurrence
    addEvent(reading, master, { key: keyOf(at), whole, at, length })
    own += 1
  }
  for (const each of placed)
    if (!strays.includes(each)) addEvent(reading, each, { key: keyOf(instantOf(each.recurrence)), whole })
  if (own === 0)
    calendar.passedOver.push({
      line: master.component.line,
      why: 'a series with no day of its own in the period read',
    })
}

/** The day that a change is of, on its own clock. */
const dayOfChange = ({ recurrence }: Master): string =>
  recurrence !== null && 'wall' in recurrence
    ? recurrence.wall.day
    : keyOf(instantOf(recurrence)).slice(0, 10)

/** A change at a time that the series never took, on a day that it takes otherwise: booked, it would be there twice. */
function isStray(
  each: Master,
  { options }: Reading,
  { written, changed, ever }: { written: Written; changed: Map<number | null, Master>; ever: Set<number> },
): boolean {
  const at = instantOf(each.recurrence)
  const span = spanOf(Number.NEGATIVE_INFINITY, options)
  if (at === null || ever.has(at) || (options.window && (at < span.from || at > span.to))) return false
  const day = dayOfChange(each)
  return written.standing.some((other) => other.day === day && !changed.has(other.at))
}

/** Adds an event at its own start, or a day of a series at `at`. Nothing is added that has no length or no zone. */
function addEvent(
  { calendar, cancels, zones }: Reading,
  { component, uid, sequence, stamp }: Master,
  { key, whole, at, length }: { key: string; whole: Version | null; at?: Instant; length?: number | null },
): void {
  // It has been told, and keeps its place among the days of its series.
  if (isLost(calendar, component)) return
  const written = propertyOf(component, 'DTSTART')
  const start = written
    ? parseTime(written.value, written.params, zones)
    : { kind: 'unreadable' as const, text: '' }
  const refusal = refusalOf(start)
  const status = textOf(component, 'STATUS').trim().toUpperCase()
  const cancelled = status === 'CANCELLED' || cancels
  // RFC 5546 section 3.2.5 (READ): a cancellation needs neither start nor end, only which it is.
  const ends: Ending | null = cancelled ? { status: 'cancelled', recurrenceKey: key, sequence, stamp } : null
  if (refusal) tell(calendar, component, 'DTSTART', refusal, ends)
  else if ('at' in start) {
    const end = endOf(component, start, zones)
    if (end === null || (ends && end <= start.at)) tell(calendar, component, 'DTEND', NO_END, ends)
    else {
      const from = at ?? start.at
      calendar.events.push({
        component,
        uid,
        recurrenceKey: key,
        sequence,
        stamp,
        whole,
        cancelled,
        tentative: status === 'TENTATIVE',
        start: from,
        end: instant(from + (length ?? end - start.at)),
        floating: start.kind === 'floating',
      })
    }
  }
}

/** DTEND, else DURATION, else the start itself (RFC 5545 section 3.6.1). */
function endOf(component: Component, start: TimedStart, zones: Zones): number | null {
  const end = propertyOf(component, 'DTEND')
  if (end) {
    const time = parseTime(end.value, end.params, zones)
    return 'at' in time ? time.at : null
  }
  const duration = propertyOf(component, 'DURATION')
  if (!duration) return start.at
  const length = parseDuration(duration.value)
  return length === null ? null : start.at + length
}

import { type Instant, instant } from '#shared/base/moment.ts'
import { compareVersions } from '#shared/schedule/import-matches.ts'
import type { IncomingProblem, PassedOver } from '#shared/schedule/incoming.ts'
import { type Component, parseComponents, propertiesOf, propertyOf, textOf } from './icalendar-lines.ts'
import {
  type CalendarTime,
  epochOf,
  expandRule,
  openZones,
  parseDuration,
  parseTime,
  RuleRefused,
  wallAt,
  type Zones,
} from './icalendar-time.ts'
import { problemOf, type ReadOptions } from './incoming.ts'
import { parseStamp } from './moments.ts'

/** One event, or one of a series, with its instants. */
export interface CalendarEvent {
  component: Component
  uid: string
  /** The original start of one of a series, ISO 8601 in UTC to the minute; empty for an event by itself. */
  recurrenceKey: string
  sequence: number
  stamp: Instant | null
  cancelled: boolean
  tentative: boolean
  start: Instant
  end: Instant
  /** Neither `Z` nor TZID: taken to be in the clinic's zone. */
  floating: boolean
}

export interface Calendar {
  method: string
  events: CalendarEvent[]
  rows: number
  problems: IncomingProblem[]
  passedOver: PassedOver[]
  assumed: string[]
  /** Whether it ends where a calendar ends: what breaks off speaks for no day whole. */
  closed: boolean
}

const MOST_EVENTS = 20_000

/** Every event of a file, series written out, exceptions in their places. */
export function readCalendar(bytes: Uint8Array, options: ReadOptions): Calendar {
  const { components } = parseComponents(bytes)
  const calendar: Calendar = {
    method: '',
    events: [],
    rows: 0,
    problems: [],
    passedOver: [],
    assumed: [],
    closed: true,
  }
  const calendars = components.filter(({ name }) => name === 'VCALENDAR')
  if (calendars.length === 0) calendar.problems.push(noCalendar())
  for (const component of calendars) readOne(calendar, component, options)
  return calendar
}

const noCalendar = (): IncomingProblem =>
  problemOf(
    { line: 1, field: 'file', original: '' },
    'The file is no calendar.',
    'Nothing in it could be read, and nothing was changed.',
    'Export the calendar again and bring the new file.',
  )

interface Master {
  component: Component
  uid: string
  recurrence: CalendarTime | null
  sequence: number
  stamp: Instant | null
}

function readOne(calendar: Calendar, component: Component, options: ReadOptions): void {
  const zones = openZones(component, options.zone)
  calendar.method = textOf(component, 'METHOD').trim().toUpperCase()
  const inside = component.components.filter(({ name }) => name !== 'VTIMEZONE')
  calendar.rows += inside.length
  const masters = inside.flatMap((each) => {
    if (each.name !== 'VEVENT') {
      calendar.passedOver.push({ line: each.line, why: `${each.name} is not read here` })
      return []
    }
    return each.closed ? [masterOf(each, zones)] : broken(calendar, each)
  })
  if (!component.closed) calendar.closed = false
  if (!component.closed && inside.every(({ closed }) => closed))
    calendar.assumed.push('The file breaks off after its last whole event.')
  const newest = newestOf(calendar, masters)
  const exceptions = new Map<string, Master[]>()
  for (const each of newest)
    if (each.recurrence) exceptions.set(each.uid, [...(exceptions.get(each.uid) ?? []), each])
  for (const master of newest.filter(({ recurrence }) => recurrence === null)) {
    writeOut(calendar, master, { zones, options, exceptions: exceptions.get(master.uid) ?? [] })
    exceptions.delete(master.uid)
  }
  // Exceptions whose series is in another file stand by themselves.
  for (const each of [...exceptions.values()].flat())
    addEvent(calendar, each, { zones, key: keyOf(instantOf(each.recurrence)) })
}

function broken(calendar: Calendar, component: Component): never[] {
  const { line, original } = component
  calendar.problems.push(
    problemOf(
      { line, field: 'file', original, externalId: textOf(component, 'UID').trim() },
      'The file breaks off in the middle of this event.',
      'A part of it is missing, so it was not read.',
      'Export the calendar again and bring the new file.',
    ),
  )
  return []
}

const masterOf = (component: Component, zones: Zones): Master => {
  const recurrence = propertyOf(component, 'RECURRENCE-ID')
  const sequence = Number(propertyOf(component, 'SEQUENCE')?.value ?? 0)
  return {
    component,
    uid: textOf(component, 'UID').trim(),
    recurrence: recurrence ? parseTime(recurrence.value, recurrence.params, zones) : null,
    sequence: Number.isSafeInteger(sequence) ? sequence : 0,
    stamp: stampOf(component, 'LAST-MODIFIED') ?? stampOf(component, 'DTSTAMP'),
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
    const key = `${master.uid}\n${master.recurrence ? keyOf(instantOf(master.recurrence)) : ''}`
    groups.set(master.uid === '' ? `line ${master.component.line}` : key, [
      ...(groups.get(key) ?? []),
      master,
    ])
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

const instantOf = (time: CalendarTime | null): number | null =>
  time === null || time.kind === 'unknown-zone' || time.kind === 'unreadable'
    ? null
    : time.kind === 'day'
      ? Date.parse(`${time.day}T00:00:00Z`)
      : time.at
const keyOf = (at: number | null): string =>
  at === null ? '' : `${new Date(at).toISOString().slice(0, 16)}Z`

interface Series {
  zones: Zones
  options: ReadOptions
  exceptions: Master[]
}

function writeOut(calendar: Calendar, master: Master, { zones, options, exceptions }: Series): void {
  const rule = propertyOf(master.component, 'RRULE')?.value
  const start = propertyOf(master.component, 'DTSTART')
  const first = start ? parseTime(start.value, start.params, zones) : null
  if (
    (rule === undefined && propertiesOf(master.component, 'RDATE').length === 0) ||
    first === null ||
    instantOf(first) === null
  ) {
    addEvent(calendar, master, { zones, key: '' })
    for (const each of exceptions) addEvent(calendar, each, { zones, key: keyOf(instantOf(each.recurrence)) })
    return
  }
  if (
    exceptions.some(({ component }) => propertyOf(component, 'RECURRENCE-ID')?.params.RANGE !== undefined)
  ) {
    calendar.problems.push(seriesProblem(master, 'it changes all days from one on'))
    return
  }
  try {
    const starts = startsOf(master.component, { first, rule, zones, options })
    const kept = new Map(exceptions.map((each) => [instantOf(each.recurrence), each]))
    if (calendar.events.length + starts.length > MOST_EVENTS)
      throw new RuleRefused('the file holds too many days')
    for (const at of starts) {
      const exception = kept.get(at)
      kept.delete(at)
      if (exception) addEvent(calendar, exception, { zones, key: keyOf(at) })
      else addEvent(calendar, master, { zones, key: keyOf(at), at: instant(at) })
    }
    for (const [at, exception] of kept) addEvent(calendar, exception, { zones, key: keyOf(at) })
    if (!calendar.events.some(({ component }) => component === master.component))
      calendar.passedOver.push({
        line: master.component.line,
        why: 'a series with no day of its own in the period read',
      })
  } catch (error) {
    calendar.problems.push(
      seriesProblem(master, error instanceof RuleRefused ? error.message : 'its rule cannot be read'),
    )
  }
}

const seriesProblem = ({ component, uid }: Master, why: string): IncomingProblem =>
  problemOf(
    { line: component.line, field: 'RRULE', original: component.original, externalId: uid },
    `This series is not written out: ${why}.`,
    'Which days it takes cannot be told for certain.',
    'Export the single appointments, or enter those you need by hand.',
  )

const DAY_MS = 86_400_000

/** Without a period of its own a series is read for a year from its start. */
const spanOf = (firstEpoch: number, { window }: ReadOptions): { from: number; to: number } =>
  window
    ? {
        from: Math.max(firstEpoch, Date.parse(`${window.from}T00:00:00Z`) - DAY_MS),
        to: Date.parse(`${window.to}T00:00:00Z`) + 2 * DAY_MS,
      }
    : { from: firstEpoch, to: firstEpoch + 366 * DAY_MS }

interface Rule {
  first: CalendarTime
  rule: string | undefined
  zones: Zones
  options: ReadOptions
}

/** The instants of a series: its rule and further dates, less its exceptions, no later than UNTIL. */
function startsOf(component: Component, { first, rule, zones, options }: Rule): number[] {
  const wall = 'wall' in first ? first.wall : wallAt(instantOf(first) ?? 0)
  const toInstant = 'clock' in first ? first.clock.toInstant : (each: typeof wall) => epochOf(each)
  const until = untilOf(rule, first, zones)
  const span = spanOf(epochOf(wall), options)
  const ruled =
    rule === undefined
      ? [epochOf(wall)]
      : expandRule(rule, wall, { from: span.from, to: Math.min(span.to, until + DAY_MS) })
  const added = datesOf(component, 'RDATE', { zones, options })
  const left = datesOf(component, 'EXDATE', { zones, options })
  const dayOf = (at: number): string => new Date(at).toISOString().slice(0, 10)
  const leftDays = new Set(left.flatMap((each) => (each.kind === 'day' ? [each.day as string] : [])))
  const leftInstants = new Set(left.map(instantOf))
  const starts = ruled
    .map((epoch) => ({ at: toInstant(wallAt(epoch)) as number, day: dayOf(epoch) }))
    .filter(({ at, day }) => at <= until && !leftDays.has(day) && !leftInstants.has(at))
    .map(({ at }) => at)
  return [...new Set([...starts, ...added.flatMap((each) => instantOf(each) ?? [])])].sort(
    (one, other) => one - other,
  )
}

/** UNTIL in UTC is inclusive; a date alone means the end of that day where the series is. */
function untilOf(rule: string | undefined, first: CalendarTime, zones: Zones): number {
  const text = /(?:^|;)UNTIL=([^;]+)/i.exec(rule ?? '')?.[1]
  if (text === undefined) return Number.POSITIVE_INFINITY
  const tzid = 'clock' in first && first.clock.zone !== null ? { TZID: first.clock.zone as string } : {}
  const until = parseTime(text, text.trim().endsWith('Z') ? {} : tzid, zones)
  if (until.kind !== 'day') return instantOf(until) ?? Number.NEGATIVE_INFINITY
  const end = { day: until.day, time: '23:59' as never }
  return 'clock' in first ? first.clock.toInstant(end) : epochOf(end)
}

const datesOf = (
  component: Component,
  name: string,
  { zones, options }: Pick<Series, 'zones' | 'options'>,
): CalendarTime[] => {
  const span = options.window
  return propertiesOf(component, name).flatMap(({ value, params }) =>
    value
      .split(',')
      .map((text) => parseTime(text.split('/')[0] ?? '', params, zones))
      .filter((time) => {
        const at = instantOf(time)
        return (
          at !== null &&
          (name !== 'RDATE' ||
            !span ||
            (at >= Date.parse(`${span.from}T00:00:00Z`) - DAY_MS &&
              at <= Date.parse(`${span.to}T00:00:00Z`) + 2 * DAY_MS))
        )
      }),
  )
}

/** Adds an event at its own start, or a day of a series at `at`. Nothing is added that has no length or no zone. */
function addEvent(
  calendar: Calendar,
  { component, uid, sequence, stamp }: Master,
  { zones, key, at }: { zones: Zones; key: string; at?: Instant },
): void {
  const written = propertyOf(component, 'DTSTART')
  const start = written
    ? parseTime(written.value, written.params, zones)
    : { kind: 'unreadable' as const, text: '' }
  const refusal = refusalOf(start)
  const problem = (field: string, parts: [string, string, string]) => {
    const { line, original } = component
    calendar.problems.push(problemOf({ line, field, original, externalId: uid }, ...parts))
  }
  if (refusal) problem('DTSTART', refusal)
  else if ('at' in start) {
    const end = endOf(component, start, zones)
    if (end === null) problem('DTEND', NO_END)
    else {
      const from = at ?? start.at
      calendar.events.push({
        component,
        uid,
        recurrenceKey: key,
        sequence,
        stamp,
        cancelled:
          textOf(component, 'STATUS').trim().toUpperCase() === 'CANCELLED' || calendar.method === 'CANCEL',
        tentative: textOf(component, 'STATUS').trim().toUpperCase() === 'TENTATIVE',
        start: from,
        end: instant(from + (end - start.at)),
        floating: start.kind === 'floating',
      })
    }
  }
}

const NO_END: [string, string, string] = [
  'The end of this event cannot be read.',
  'How long the operatory is taken cannot be told.',
  'Mend the end in the calendar it comes from, or enter the appointment by hand.',
]

function refusalOf(start: CalendarTime): [string, string, string] | null {
  if (start.kind === 'day')
    return [
      'This event takes a whole day and names no time.',
      'An appointment without a time has no place in the day.',
      'Give it a time in the calendar it comes from, or enter the appointment by hand.',
    ]
  if (start.kind === 'unknown-zone')
    return [
      `"${start.tzid}" is no time zone that is known here or defined in the file.`,
      'The appointment could be hours away from where it seems to be.',
      'Say which zone is meant in the calendar it comes from, or enter the appointment by hand.',
    ]
  if (start.kind === 'unreadable')
    return [
      `The start "${start.text}" cannot be read.`,
      'When the patient is due cannot be told.',
      'Mend it in the calendar it comes from, or enter the appointment by hand.',
    ]
  return null
}

/** DTEND, else DURATION, else the start itself (RFC 5545 section 3.6.1). */
function endOf(
  component: Component,
  start: Extract<CalendarTime, { at: Instant }>,
  zones: Zones,
): number | null {
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

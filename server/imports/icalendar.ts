import type { Day } from '#shared/base/moment.ts'
import { ok, type Result } from '#shared/base/result.ts'
import { saysWork } from '#shared/procedures/recognise.ts'
import type { AppointmentStatus } from '#shared/schedule/appointment.ts'
import {
  type Coverage,
  coverageOf,
  type Incoming,
  type IncomingAppointment,
  type IncomingPatient,
  type IncomingWork,
} from '#shared/schedule/incoming.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'
import { type CsvField, fieldOfHeader } from './csv-columns.ts'
import {
  chosenOrder,
  type DateOrder,
  type DateRefusal,
  dayOfShape,
  orderOf,
  shapeOfDate,
} from './csv-values.ts'
import { dateRefusal } from './csv-when.ts'
import { type CalendarEvent, readCalendar } from './icalendar-events.ts'
import { propertiesOf, textOf } from './icalendar-lines.ts'
import {
  daysFrom,
  emptyIncoming,
  MOST_DAYS_COVERED,
  parsePersonName,
  problemOf,
  type ReadOptions,
  withHash,
} from './incoming.ts'
import { askedOn, inZone } from './moments.ts'
import { readWorkLine } from './work-line.ts'

/** The domain of the UIDs that our own feeds write. */
export const OWN_UID = '@weirboard.invalid'

/** The mark of what an event of our own feeds says. */
export const OWN_MARK = 'X-WEIRBOARD-MARK'

/** Marks an event of our own feeds that carries neither patient nor work: it speaks of time and place only. */
export const TIMES_ONLY = 'X-WEIRBOARD-TIMES-ONLY'

/** Marks an event that is cancelled in this feed of ours because it went to another operatory or dentist. */
export const MOVED_AWAY = 'X-WEIRBOARD-MOVED-AWAY'

/**
 * An iCalendar file (RFC 5545). A calendar has no patient: the summary is read as "Name: work" or "Name - work", and
 * lines such as "Born: 1990-05-01" of the description as what they name. What cannot be told is asked.
 */
export function parseICalendar(bytes: Uint8Array, options: ReadOptions): Incoming {
  const calendar = readCalendar(bytes, options)
  const incoming: Incoming = {
    ...emptyIncoming('icalendar'),
    rows: calendar.rows,
    problems: calendar.problems.map(({ externalId, ...problem }) =>
      externalId ? { ...problem, externalId: externalIdOf(externalId) } : problem,
    ),
    passedOver: calendar.passedOver,
    assumed: [...calendar.assumed],
  }
  if (calendar.events.some(({ floating }) => floating))
    incoming.assumed.push(`Times without a zone are taken to be in ${options.zone}.`)
  if (options.window && calendar.events.some(({ recurrenceKey }) => recurrenceKey !== ''))
    incoming.assumed.push(`Of series the days up to ${options.window.to} are read.`)
  const reading: Reading = { ...options, order: orderIn(calendar.events, options) }
  for (const event of calendar.events) takeEvent(incoming, event, reading)
  // What asks or answers somebody is about its own events alone; so may be what holds one event.
  const whole = calendar.closed && !calendar.asks
  const many = options.followed !== undefined || incoming.appointments.length > 1
  return { ...incoming, covers: whole && many ? coverOf(incoming, options) : null }
}

/** What is known of how a calendar is written: dates in its descriptions may need an order of figures. */
interface Reading extends ReadOptions {
  order: DateOrder | null
}

function orderIn(events: readonly CalendarEvent[], { dateOrder }: ReadOptions): DateOrder | null {
  const shapes = events.flatMap(({ component }) => {
    const { born, allergiesAsked } = readDescription(textOf(component, 'DESCRIPTION')).fields
    return [shapeOfDate(born ?? ''), shapeOfDate(allergiesAsked ?? '')]
  })
  return chosenOrder(orderOf(shapes), dateOrder ?? null)
}

/**
 * A calendar speaks for the days it names and those between, from the first of the period it was read for: what is
 * past is not asked. One that is followed also for the days on which it gave something before, wherever that was.
 */
function coverOf({ appointments }: Incoming, { window, followed }: ReadOptions): Coverage {
  const named = coverageOf(appointments)
  const ahead = named.days.filter((day) => window === undefined || day >= window.from)
  const [first, last] = [ahead[0], ahead.filter((day) => window && day <= window.to).at(-1)]
  const between = first && last ? daysFrom(first, last) : []
  const days = [...new Set([...ahead, ...between, ...(followed?.given ?? [])])].sort()
  return {
    days: days.slice(0, MOST_DAYS_COVERED),
    operatories: followed ? null : named.operatories,
  }
}

function takeEvent(incoming: Incoming, event: CalendarEvent, reading: Reading): void {
  const { component } = event
  const minutes = Math.round((event.end - event.start) / 60_000)
  const where = {
    line: component.line,
    field: 'DTEND',
    original: component.original,
    externalId: externalIdOf(event.uid),
  }
  if (minutes <= 0 || minutes > 24 * 60) {
    incoming.problems.push(
      problemOf(
        where,
        minutes > 0 ? 'This event is longer than a day.' : 'This event ends when it starts, or before.',
        'How long the operatory is taken cannot be told.',
        'Mend the end in the calendar it comes from, or enter the appointment by hand.',
      ),
    )
    return
  }
  if (event.uid === '') {
    incoming.problems.push(
      problemOf(
        { ...where, field: 'UID' },
        'This event has no UID.',
        'It could not be known again the next time, and would be booked twice.',
        'Export the calendar again with UIDs, or enter the appointment by hand.',
      ),
    )
    return
  }
  const { fields } = readDescription(textOf(component, 'DESCRIPTION'))
  const born = readBorn(fields.born, reading)
  // Who is called off is known by the event: a birth date that cannot be read must not keep the visit.
  if (!born.ok && !event.cancelled) {
    const { field, parts } = dateRefusal('born', fields.born ?? '', born.reasons[0] ?? 'unreadable')
    incoming.problems.push(problemOf({ ...where, field }, ...parts))
    return
  }
  const appointment = appointmentOf(event, { minutes, born: born.ok ? born.value : 'unreadable' }, reading)
  incoming.appointments.push(appointment)
  const { patient } = appointment
  if (fields.allergies && patient)
    incoming.allergies.push({ kind: 'text', line: component.line, patient, ...readAsked(fields, reading) })
}

function readBorn(text: string | undefined, { order }: Reading): Result<Day | null, DateRefusal> {
  return text === undefined ? ok(null) : dayOfShape(shapeOfDate(text), { order, birth: true })
}

/** The words on allergies, and the day on which somebody asked; one that cannot be read stays beside the words. */
function readAsked({ allergies = '', allergiesAsked }: Described, { order, zone }: Reading) {
  if (allergiesAsked === undefined) return { text: allergies, asked: null }
  const day = dayOfShape(shapeOfDate(allergiesAsked), { order, birth: false })
  return day.ok
    ? { text: allergies, asked: askedOn(day.value, zone) }
    : { text: `${allergies} (asked: ${allergiesAsked})`, asked: null }
}

function appointmentOf(
  event: CalendarEvent,
  { minutes, born }: { minutes: number; born: Day | null | 'unreadable' },
  options: Reading,
): IncomingAppointment {
  const { component, uid } = event
  const described = readDescription(textOf(component, 'DESCRIPTION'))
  const summary = readSummary(textOf(component, 'SUMMARY'), options.mapping?.SUMMARY)
  const when = inZone(event.start, options.zone)
  const own = uid.endsWith(OWN_UID)
  const timesOnly = textOf(component, TIMES_ONLY) !== ''
  const work = described.work ?? (own ? [] : summary.work.split('\n'))
  return withHash({
    line: component.line,
    externalId: externalIdOf(uid),
    recurrenceKey: event.recurrenceKey,
    sequence: event.sequence,
    stamp: event.stamp,
    status: statusOf(event),
    day: when.day,
    startsAt: when.time,
    zone: options.zone,
    start: when.start,
    ...(event.floating ? { byClock: true as const } : {}),
    minutes,
    operatory: described.fields.operatory ?? (textOf(component, 'LOCATION').trim() || null),
    dentist: described.fields.dentist ?? chairOf(event),
    patient:
      timesOnly || born === 'unreadable'
        ? null
        : patientOf(described.fields, { summary: own ? null : summary.name, born, source: options.source }),
    work: timesOnly
      ? null
      : workLines(work, { tooth: described.fields.tooth ?? '', notation: options.notation }),
    note: timesOnly ? null : described.rest,
    ...(event.whole && !own ? { whole: event.whole } : {}),
    ...(textOf(component, MOVED_AWAY) === '' ? {} : { movedAway: true as const }),
    ...(own
      ? { ofOurs: { form: timesOnly ? 'times' : 'event', mark: textOf(component, OWN_MARK).trim() || null } }
      : {}),
  })
}

const externalIdOf = (uid: string): string =>
  uid.endsWith(OWN_UID) ? `weirboard:${uid.slice(0, -OWN_UID.length)}` : uid

/** Several lines of work stand on lines of their own. */
const workLines = (
  lines: readonly string[],
  { tooth, notation }: { tooth: string; notation: Notation },
): IncomingWork[] =>
  lines
    .map((line) => line.trim())
    .filter((line) => line !== '')
    .flatMap((line) =>
      tooth === ''
        ? { text: line, teeth: [], surfaces: [] }
        : (readWorkLine({ work: line, tooth, surfaces: '' }, notation) ?? []),
    )

const statusOf = ({ cancelled, tentative }: CalendarEvent): AppointmentStatus =>
  cancelled ? 'cancelled' : tentative ? 'pending' : 'booked'

const chairOf = ({ component }: CalendarEvent): string | null =>
  propertiesOf(component, 'ATTENDEE').find(({ params }) => params.ROLE === 'CHAIR' && params.CN)?.params.CN ??
  null

/** "Name: work", "Name - work", "Name; work". What looks like work is no name; without a name nobody is invented. */
function readSummary(text: string, mapped: string | undefined): { name: string | null; work: string } {
  if (mapped === 'work') return { name: null, work: text }
  if (mapped === 'patient') return { name: text, work: '' }
  const found = /^([^:;\n]{2,80}?)\s*(?::\s|;\s|\s[-–—]\s)([\s\S]+)$/u.exec(text)
  const name = found?.[1]?.trim() ?? ''
  return isName(name) ? { name, work: found?.[2]?.trim() ?? '' } : { name: null, work: text }
}

const isName = (text: string): boolean =>
  /^[\p{L}][\p{L}\p{M}'’.\-, ]+$/u.test(text) && /[ ,]/.test(text) && !saysWork(text)

type Described = Partial<Record<CsvField, string>>

/** Below this line a description is a note word for word. */
export const END_OF_FIELDS = '--'

/** Before a further line of the same field. */
export const CONTINUES = '  '

function readDescription(text: string): { fields: Described; work: string[] | null; rest: string } {
  const fields: Described = {}
  const work: string[] = []
  let inWork = false
  const lines = text.split('\n')
  const end = lines.indexOf(END_OF_FIELDS)
  const rest: string[] = end < 0 ? [] : lines.slice(end + 1)
  for (const line of end < 0 ? lines : lines.slice(0, end)) {
    const [, key = '', value = ''] = /^([\p{L} .]{2,30}):\s*(.+)$/u.exec(line.trim()) ?? []
    const field = key === '' ? null : fieldOfHeader(key)
    if (inWork && line.startsWith(CONTINUES)) {
      work.push(`${work.pop() ?? ''}\n${line.slice(CONTINUES.length)}`)
      continue
    }
    inWork = field === 'work'
    if (field === null || field === 'ignore' || NOT_DESCRIBED.has(field)) rest.push(line)
    else if (field === 'work') work.push(value.trim())
    else if (fields[field] === undefined) fields[field] = value.trim()
    else rest.push(line)
  }
  const note = rest.join('\n')
  // Our own note stands word for word below its line; what others left over is only tidied.
  return { fields, work: work.length > 0 ? work : null, rest: end < 0 ? note.trim() : note }
}
/** What the calendar itself says is not taken from its description. */
const NOT_DESCRIBED = new Set<CsvField>([
  'id',
  'ownId',
  'ownMark',
  'sequence',
  'changed',
  'status',
  'start',
  'day',
  'time',
  'endTime',
  'minutes',
  'note',
  'surfaces',
])

function patientOf(
  fields: Described,
  { summary, born, source }: { summary: string | null; born: Day | null; source: string },
): IncomingPatient | null {
  const whole = fields.patient ?? summary
  const name = whole === null ? { given: '', family: '' } : parsePersonName(whole)
  const given = fields.given ?? name.given
  const family = fields.family ?? name.family
  const identifiers = fields.patientNumber ? [{ system: source, value: fields.patientNumber }] : []
  if (family === '' && given === '' && identifiers.length === 0) return null
  return { given, family, born, identifiers }
}

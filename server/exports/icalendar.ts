import { addMinutes, type Instant, type Minutes } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import type { AppointmentId } from '#shared/ids.ts'
import { CATALOGUE } from '#shared/procedures/catalogue.ts'
import type { Work } from '#shared/procedures/work.ts'
import { type EventStatus, eventStatus } from '#shared/schedule/exported-mark.ts'
import type { Departure } from '../commands/departures.ts'
import { CONTINUES, END_OF_FIELDS, MOVED_AWAY, OWN_MARK, OWN_UID, TIMES_ONLY } from '../imports/icalendar.ts'
import { type ExportedAppointment, exportedOf, markIn } from './day.ts'

export interface FeedOptions {
  name: string
  /** Names, words and birth dates: for the clinic's own eyes only. Left out, an event says when, where and what kind. */
  detail: boolean
  /** How often an appointment has changed, and when last. The sequence may only grow. */
  versionOf: (id: AppointmentId) => { sequence: number; at: Instant }
  /** What has gone to another operatory or dentist, as it stood here: it stays as cancelled. */
  departed: readonly Pick<Departure, 'appointmentId' | 'start' | 'minutes'>[]
}

/**
 * A read-only feed (RFC 5545, RFC 7986) of a world's appointments, in UTC. What is cancelled stays in it as
 * cancelled. Whoever calls keeps the world to the operatory or dentist whose feed it is.
 */
export function makeICalendar(world: World, options: FeedOptions): string {
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Weirboard//Day//EN',
    'CALSCALE:GREGORIAN',
    `NAME:${escapeText(options.name)}`,
    `X-WR-CALNAME:${escapeText(options.name)}`,
    'REFRESH-INTERVAL;VALUE=DURATION:PT15M',
    ...exportedOf(world).flatMap((exported) => eventOf(exported, options)),
    ...options.departed.flatMap((departed) => departedEvent(departed, options)),
    'END:VCALENDAR',
  ]
  return lines.map((line) => `${fold(line)}\r\n`).join('')
}

const STATUS: Record<EventStatus, string> = {
  pending: 'TENTATIVE',
  booked: 'CONFIRMED',
  cancelled: 'CANCELLED',
}

/** How every event begins: which it is, in which version, and when it takes place. */
function headOf(
  { id, start, minutes }: { id: AppointmentId; start: Instant; minutes: Minutes },
  { versionOf }: FeedOptions,
): string[] {
  const { sequence, at } = versionOf(id)
  return [
    'BEGIN:VEVENT',
    `UID:${id}${OWN_UID}`,
    `SEQUENCE:${sequence}`,
    `DTSTAMP:${utc(at)}`,
    `LAST-MODIFIED:${utc(at)}`,
    `DTSTART:${utc(start)}`,
    `DTEND:${utc(addMinutes(start, minutes))}`,
  ]
}

const departedEvent = (
  { appointmentId, start, minutes }: FeedOptions['departed'][number],
  options: FeedOptions,
): string[] => [
  ...headOf({ id: appointmentId, start, minutes }, options),
  'STATUS:CANCELLED',
  'SUMMARY:No longer here',
  `${MOVED_AWAY}:1`,
  `${TIMES_ONLY}:1`,
  'END:VEVENT',
]

function eventOf(exported: ExportedAppointment, options: FeedOptions): string[] {
  const { appointment, operatory } = exported
  return [
    ...headOf(appointment, options),
    `STATUS:${STATUS[eventStatus(appointment.status)]}`,
    `${OWN_MARK}:${markIn(exported, options.detail ? 'event' : 'times')}`,
    ...(operatory ? [`LOCATION:${escapeText(operatory.name)}`] : []),
    ...(options.detail
      ? detailOf(exported)
      : [
          `SUMMARY:${escapeText(exported.work.map(kindInWords).join(', ') || 'Appointment')}`,
          `${TIMES_ONLY}:1`,
        ]),
    'END:VEVENT',
  ]
}

const kindInWords = ({ kind }: Work): string =>
  kind === 'undetermined' ? 'Appointment' : CATALOGUE[kind].name

function detailOf({ appointment, patient, dentist, work }: ExportedAppointment): string[] {
  const name = patient ? `${patient.family}, ${patient.given}` : ''
  const described = [
    ...(patient?.family ? [`Family name: ${patient.family}`] : []),
    ...(patient?.given ? [`Given name: ${patient.given}`] : []),
    ...(patient?.born ? [`Born: ${patient.born}`] : []),
    ...(dentist ? [`Dentist: ${dentist.name}`] : []),
    ...work.map(({ text }) => `Procedure: ${text.trim().replace(/\r\n|\r|\n/g, `\n${CONTINUES}`)}`),
    ...(appointment.note === '' ? [] : [END_OF_FIELDS, appointment.note]),
  ]
  return [
    `SUMMARY:${escapeText([name, ...work.map(({ text }) => text)].join(': '))}`,
    `DESCRIPTION:${escapeText(described.join('\n'))}`,
  ]
}

const utc = (at: Instant): string => new Date(at).toISOString().replace(/[-:]|\.\d{3}/g, '')

/** RFC 5545 section 3.3.11. */
const escapeText = (text: string): string =>
  text.replace(/[\\;,]/g, (sign) => `\\${sign}`).replace(/\r\n|\r|\n/g, '\\n')

/** At most 75 octets a line, never inside a character (RFC 5545 section 3.1). */
function fold(line: string): string {
  const parts: string[] = []
  let part = ''
  let octets = 0
  for (const letter of line) {
    const size = Buffer.byteLength(letter)
    if (octets + size > 75) {
      parts.push(part)
      part = ' '
      octets = 1
    }
    part += letter
    octets += size
  }
  return [...parts, part].join('\r\n')
}

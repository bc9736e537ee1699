import type { IncomingProblem } from '#shared/schedule/incoming.ts'
import type { CalendarTime } from './icalendar-time.ts'
import { problemOf } from './incoming.ts'

export const noCalendar = (): IncomingProblem =>
  problemOf(
    { line: 1, field: 'file', original: '' },
    'The file is no calendar.',
    'Nothing in it could be read, and nothing was changed.',
    'Export the calendar again and bring the new file.',
  )

/** What, why it matters, what to do. */
export type Three = [what: string, why: string, todo: string]

export const BROKEN: Three = [
  'The file breaks off in the middle of this event.',
  'A part of it is missing, so it was not read.',
  'Export the calendar again and bring the new file.',
]

/** RFC 5546 section 1.4 (READ): what each of these is, none of them being a booking. */
const ANSWERS: Record<string, string> = {
  REPLY: 'This is the answer of somebody who was invited, not a booking.',
  COUNTER: 'Somebody asks for another time here; nobody has agreed to it yet.',
  DECLINECOUNTER: 'This declines a time that somebody asked for; it is not a booking.',
  REFRESH: 'This asks for the newest version of an appointment; it is not a booking.',
  ADD: 'This adds days to a series that stands elsewhere.',
}
export const noBooking = (method: string): Three => [
  ANSWERS[method] ?? `What "${method.slice(0, 40)}" asks of this event is not known here.`,
  'Taken for a booking it would move or bring back a visit, so nothing was changed.',
  'See what stands in the calendar it comes from, and change the appointment by hand if it has changed there.',
]

export const STRAY: Three = [
  'This changes one day of a series at a time at which the series has no visit.',
  'Taken as it stands, the patient would be booked twice on that day, so neither was taken.',
  'See in the calendar it comes from when the patient is due on that day, and enter it by hand.',
]

export const NO_END: Three = [
  'The end of this event cannot be read.',
  'How long the operatory is taken cannot be told.',
  'Mend the end in the calendar it comes from, or enter the appointment by hand.',
]

export function refusalOf(start: CalendarTime): Three | null {
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

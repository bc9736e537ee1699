import { type ClockTime, type Day, dayAfter, type Instant, parseDay, type Zone } from '#shared/base/moment.ts'
import { localInstant } from '#shared/schedule/local-time.ts'
import type { CsvField } from './csv-columns.ts'
import {
  above,
  clockOf,
  type DateOrder,
  type DateRefusal,
  dayOfShape,
  parseMinutes,
  parseTime,
  shapeOfDate,
} from './csv-values.ts'
import type { ReadOptions } from './incoming.ts'
import { inZone, parseStamp } from './moments.ts'

/** Why a row is not taken: the field, and the three parts of what is said of it. */
export interface Refused {
  field: string
  parts: [what: string, why: string, todo: string]
}
export const refused = (field: string, ...parts: Refused['parts']): Refused => ({ field, parts })
export const isRefused = (value: object): value is Refused => 'parts' in value

/** The words of one row under a field. */
export type Cell = (field: CsvField) => string

interface Reading {
  options: ReadOptions
  order: DateOrder | null
}

export interface When {
  day: Day
  time: ClockTime
  start: Instant
  /** By a clock alone, with no offset. */
  byClock?: true
}

/** Date and time from one cell. A time at the end is split off; `Tue 24.11.2026` has none. */
export function splitStart(text: string): { date: string; time: string } {
  const found =
    /^(.*?\d.*?)[\s,T]+(\d{1,2}[:.hH]\d{2}(?:[:.hH]\d{2}(?:\.\d+)?)?\s*(?:[ap]\.?\s?m\.?)?)$/i.exec(
      text.trim(),
    )
  return found ? { date: found[1] ?? '', time: found[2] ?? '' } : { date: text, time: '' }
}

/** When the source last changed a row: with its offset, or by the clinic's own clock; a day alone is its beginning. */
export function readChanged(cell: Cell, { order, options }: Reading): Instant | null | Refused {
  const text = cell('changed')
  const exact = parseStamp(text)
  if (text === '' || exact !== null) return exact
  const { date, time: said } = splitStart(text)
  const shape = shapeOfDate(date, options.serials)
  const day = dayOfShape(shape, { order, birth: false })
  if (!day.ok && day.reasons[0] === 'order') return dateRefusal('changed', text, 'order')
  const time = said === '' && shape.kind === 'day' ? clockOf(shape.time ?? 0) : parseTime(said || '0:00')
  const at = day.ok && time !== null ? instantAt(day.value, time, options.zone) : null
  return (
    at ??
    refused(
      'changed',
      `"${text}" is not a date and time.`,
      'Whether this row is newer than what is known cannot be told.',
      'Mend it, or say that this column is nothing, and bring the file again.',
    )
  )
}

/** When a row takes place: an instant with its offset, or the clinic's own clock. */
export function readWhen(cell: Cell, { order, options }: Reading): When | Refused {
  const { zone } = options
  const exact = parseStamp(cell('start'))
  if (exact !== null) return inZone(exact, zone)
  const { field, date, said } = wordsOfWhen(cell)
  const shape = shapeOfDate(date, options.serials)
  const day = dayOfShape(shape, { order, birth: false })
  if (!day.ok) return dateRefusal(field, date, day.reasons[0] ?? 'unreadable')
  const from1904 = otherCount(date, day.value, options)
  if (from1904 !== null) return twoCounts(field, date, { from1900: day.value, from1904 })
  const time = said === '' && shape.kind === 'day' ? timeOf(shape) : parseTime(said)
  if (time === null) return noTime(cell('start') === '' ? 'time' : 'start', said)
  const at = localInstant(day.value, time, zone)
  return at.ok ? { day: day.value, time, start: at.value, byClock: true } : timeRefusal(day.value, time, zone)
}

/** A list of visits is not of years ago: a day number so far back may be of a file that counts from 1904. Days. */
const LONG_AGO = 1000

/** The day that a number means counted from 1904, where counted from 1900 it is long ago and nobody said which. */
function otherCount(date: string, day: Day, { serials, window }: ReadOptions): Day | null {
  const from = parseDay(window?.from ?? '')
  if (serials !== undefined || from === null || !/^\d{5}(?:[.,]\d+)?$/.test(date.trim())) return null
  const other = shapeOfDate(date, '1904')
  return day < dayAfter(from, -LONG_AGO) && other.kind === 'day' ? other.day : null
}

const twoCounts = (field: string, date: string, either: { from1900: Day; from1904: Day }): Refused =>
  refused(
    field,
    `"${date}" is ${either.from1900} counted from 1900, and ${either.from1904} counted from 1904.`,
    'Which of the two the file counts from cannot be known, and visits would stand on a day years away.',
    `Write its dates out, as ${either.from1904}, and bring the file again.`,
  )

const timeOf = ({ time }: { time: number | null }): ClockTime | null => (time === null ? null : clockOf(time))

/** Which cells hold the date and the time. A column named "start" beside one named "date" holds a time only. */
function wordsOfWhen(cell: Cell): { field: CsvField; date: string; said: string } {
  const start = cell('start')
  const day = splitStart(cell('day'))
  if (start === '' || (day.date !== '' && shapeOfDate(splitStart(start).date).kind === 'none'))
    return { field: 'day', date: day.date, said: cell('time') || start || day.time }
  const whole = splitStart(start)
  return { field: 'start', date: whole.date, said: whole.time || cell('time') }
}

const noTime = (field: CsvField, said: string): Refused =>
  said === ''
    ? refused(
        field,
        'The row names no time.',
        'An appointment without a time has no place in the day.',
        'Add the time and bring the file again, or enter this appointment by hand.',
      )
    : refused(
        field,
        `"${said}" is not a time of day.`,
        'When the patient is due cannot be told.',
        'Write it as 09:05 or 9:05 AM and bring the file again.',
      )

const timeRefusal = (day: Day, time: ClockTime, zone: Zone): Refused =>
  refused(
    'time',
    `On ${day} the clocks of ${zone} jump over ${time}.`,
    'There is no such time, so when the patient is due cannot be told.',
    'Ask which time is meant and mend it.',
  )

const DATE_REFUSALS: Record<DateRefusal, [string, string]> = {
  missing: ['The row names no date.', 'Add the date and bring the file again.'],
  unreadable: ['This is not a date.', 'Write it as 2026-11-24 and bring the file again.'],
  'no-such-day': ['There is no such day in the calendar.', 'Mend the date and bring the file again.'],
  weekday: [
    'The weekday and the date do not agree.',
    'Find out which of the two is right and mend the other.',
  ],
  century: ['The year has two figures only.', 'Write the year with four figures.'],
  order: [
    'Day, month and year cannot be told apart in this file.',
    'Say in which order it writes them, and preview again.',
  ],
}
export function dateRefusal(field: string, text: string, why: DateRefusal): Refused {
  const [what, todo] = DATE_REFUSALS[why]
  return refused(
    field,
    text === '' ? what : `"${text}": ${what}`,
    'A wrong date puts the wrong patient in the chair.',
    todo,
  )
}

/** Where a file gives no lengths. */
export const ASSUMED_MINUTES = 30

/** How long it takes, in minutes as they pass: a change of the clocks between start and end counts. */
export function readMinutes(cell: Cell, when: When, reading: Reading): number | Refused {
  const said = cell('minutes')
  const end = cell('endTime')
  if (said !== '') return parseMinutes(said) ?? noLength('minutes', said)
  if (end === '') return ASSUMED_MINUTES
  const at = endOf(end, when, reading)
  return (at === null ? null : above((at - when.start) / 60_000)) ?? noLength('endTime', end)
}

/** An end with its offset, with a date of its own, or by the clock of the day on which it starts. */
function endOf(text: string, { day, start }: When, { order, options }: Reading): Instant | null {
  const exact = parseStamp(text)
  // The start is to the minute, so the end is too.
  if (exact !== null) return exact > start ? inZone(exact, options.zone).start : null
  const clock = parseTime(text)
  if (clock !== null) return instantAt(day, clock, options.zone)
  const { date, time: said } = splitStart(text)
  const shape = shapeOfDate(date, options.serials)
  const on = dayOfShape(shape, { order, birth: false })
  const time = said === '' && shape.kind === 'day' ? timeOf(shape) : parseTime(said)
  return on.ok && time !== null ? instantAt(on.value, time, options.zone) : null
}

function instantAt(day: Day, time: ClockTime, zone: Zone): Instant | null {
  const at = localInstant(day, time, zone)
  return at.ok ? at.value : null
}

const noLength = (field: string, text: string): Refused =>
  refused(
    field,
    `"${text}" is not a length or an end after the start.`,
    'How long the operatory is taken cannot be told.',
    'Mend it and bring the file again.',
  )

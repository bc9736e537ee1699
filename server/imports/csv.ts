import { canonicalJson } from '#shared/base/digest.ts'
import type { ClockTime, Day, Instant, Zone } from '#shared/base/moment.ts'
import {
  coverageOf,
  type Incoming,
  type IncomingAppointment,
  type IncomingPatient,
  type IncomingProblem,
} from '#shared/schedule/incoming.ts'
import { localInstant } from '#shared/schedule/local-time.ts'
import { type Column, type CsvField, mapColumns } from './csv-columns.ts'
import type { CsvRow } from './csv-rows.ts'
import { type CsvTable, readTable } from './csv-table.ts'
import {
  type DateOrder,
  type DateRefusal,
  type DateShape,
  dayOfShape,
  orderOf,
  parseMinutes,
  parseStatus,
  parseTime,
  shapeOfDate,
} from './csv-values.ts'
import { emptyIncoming, parsePersonName, problemOf, type ReadOptions, withHash } from './incoming.ts'
import { askedOn, inZone, parseStamp } from './moments.ts'
import { isSurface } from './teeth.ts'

/** A day list as read, with what a preview shows beside it: encoding, delimiter, columns with a sample, date order. */
export interface CsvIncoming extends Incoming {
  table: {
    encoding: string
    delimiter: string
    columns: (Column & { sample: string })[]
    dateOrder: DateOrder | 'ask' | 'conflict' | null
  }
}

const ASSUMED_MINUTES = 30

export function parseCsv(bytes: Uint8Array, options: ReadOptions): CsvIncoming {
  const table = readTable(bytes, options.mapping ?? {})
  const columns = mapColumns(table.headers, options.mapping ?? {})
  const evidence = orderOf(dateShapes(table, columns, options))
  const reading: Reading = { columns, options, order: chosenOrder(evidence, options.dateOrder ?? null) }
  const incoming: CsvIncoming = {
    ...emptyIncoming('csv'),
    rows: table.rows.length + table.problems.filter(({ field }) => field === 'row').length,
    problems: [...table.problems],
    passedOver: table.passedOver,
    assumed: assumptionsOf(table, reading),
    table: {
      encoding: table.encoding,
      delimiter: table.delimiter,
      columns: columns.map((column, index) => ({ ...column, sample: table.rows[0]?.cells[index] ?? '' })),
      dateOrder: reading.order ?? evidence,
    },
  }
  for (const row of table.rows) takeRow(incoming, row, reading)
  joinRows(incoming)
  return { ...incoming, covers: coverageOf(incoming.appointments) }
}

/**
 * Many systems write one row for each line of work. Rows of the same appointment that differ in nothing but the
 * work are one appointment.
 */
function joinRows(incoming: CsvIncoming): void {
  const joined = new Map<string, IncomingAppointment>()
  for (const row of incoming.appointments) {
    const { line: _, work: __, note: ___, contentHash: ____, ...same } = row
    const key = canonicalJson(same)
    const first = joined.get(key)
    joined.set(key, first ? joinTwo(first, row) : row)
    if (first)
      incoming.passedOver.push({ line: row.line, why: `more work of the appointment in line ${first.line}` })
  }
  incoming.appointments = [...joined.values()]
}

function joinTwo(first: IncomingAppointment, row: IncomingAppointment): IncomingAppointment {
  const { contentHash: _, ...kept } = first
  const work = first.work ?? []
  const texts = new Set(work.map(({ text }) => text))
  const isOwn = first.externalId?.startsWith('weirboard:') ?? false
  const notes = [...new Set([first.note, row.note].filter((text) => text !== '' && text !== null))]
  return withHash({
    ...kept,
    // A foreign row that stands twice is one; our own exports repeat a line only where the work does.
    work: [...work, ...(row.work ?? []).filter(({ text }) => isOwn || !texts.has(text))],
    note: first.note === null ? null : notes.join(' · '),
  })
}

interface Reading {
  columns: Column[]
  options: ReadOptions
  order: DateOrder | null
}

/** What a person chose stands unless the file itself contradicts it. */
function chosenOrder(
  evidence: DateOrder | 'ask' | 'conflict' | null,
  said: DateOrder | null,
): DateOrder | null {
  if (evidence === 'conflict') return null
  if (evidence === 'dmy' || evidence === 'mdy') return said === null || said === evidence ? evidence : null
  return said
}

function* dateShapes(table: CsvTable, columns: Column[], { serials }: ReadOptions): Generator<DateShape> {
  for (const row of table.rows)
    for (const [index, { field }] of columns.entries())
      if (field === 'born' || field === 'allergiesAsked') yield shapeOfDate(row.cells[index] ?? '', serials)
      else if (field === 'day' || field === 'start')
        yield shapeOfDate(splitStart(row.cells[index] ?? '').date, serials)
}

function assumptionsOf(table: CsvTable, { columns, order }: Reading): string[] {
  const assumed: string[] = []
  if (!table.marked && table.encoding !== 'utf-8') assumed.push(`The letters were read as ${table.encoding}.`)
  if (order === 'dmy') assumed.push('Dates are read day first.')
  if (order === 'mdy') assumed.push('Dates are read month first.')
  if (table.rows.length > 0 && !has({ columns }, 'minutes', 'endTime'))
    assumed.push(`The file gives no lengths: ${ASSUMED_MINUTES} minutes are taken for each appointment.`)
  return assumed
}

type Refused = Pick<IncomingProblem, 'field'> & { parts: [string, string, string] }
const refused = (field: string, ...parts: [string, string, string]): Refused => ({ field, parts })
const isRefused = (value: object): value is Refused => 'parts' in value

function takeRow(incoming: CsvIncoming, row: CsvRow, reading: Reading): void {
  const cell = (field: CsvField): string =>
    reading.columns
      .flatMap((column, index) => (column.field === field ? [(row.cells[index] ?? '').trim()] : []))
      .filter((text) => text !== '')
      .map(unguarded)
      .join(' ')
  const read = readRow(cell, row, reading)
  if (isRefused(read)) {
    incoming.problems.push(
      problemOf(
        { line: row.line, field: read.field, original: row.original, externalId: idOf(cell) },
        ...read.parts,
      ),
    )
    return
  }
  incoming.appointments.push(read)
  const { patient } = read
  if (patient === null || cell('allergies') === '') return
  incoming.allergies.push({ kind: 'text', line: row.line, patient, ...readAllergies(cell, reading) })
}

/** The words on allergies, and when somebody asked; a day that cannot be read stays beside the words. */
function readAllergies(cell: (field: CsvField) => string, { order, options }: Reading) {
  const [text, said] = [cell('allergies'), cell('allergiesAsked')]
  if (said === '') return { text, asked: null }
  const exact = parseStamp(said)
  if (exact !== null) return { text, asked: { by: null, at: exact, day: inZone(exact, options.zone).day } }
  const day = dayOfShape(shapeOfDate(said, options.serials), { order, birth: false })
  return day.ok
    ? { text, asked: askedOn(day.value, options.zone) }
    : { text: `${text} (asked: ${said})`, asked: null }
}

/** An apostrophe that keeps a spreadsheet from running a cell is not part of its words. */
const unguarded = (text: string): string => (/^'[=+\-@\t\r]/.test(text) ? text.slice(1) : text)

function readRow(
  cell: (field: CsvField) => string,
  row: CsvRow,
  reading: Reading,
): IncomingAppointment | Refused {
  const { zone, serials } = reading.options
  const status = parseStatus(cell('status'))
  if (status === null)
    return refused(
      'status',
      `"${cell('status')}" is not a status known here.`,
      'Whether the patient comes cannot be told.',
      'Use booked, arrived, cancelled or another of the ten statuses, and bring the file again.',
    )
  const when = readWhen(cell, reading)
  if (isRefused(when)) return when
  const minutes = readMinutes(cell, when)
  if (typeof minutes !== 'number') return minutes
  const patient = readPatient(cell, {
    order: reading.order,
    source: reading.options.source,
    serials: serials ?? '1900',
  })
  if (isRefused(patient)) return patient
  const sequence = cell('sequence')
  if (sequence !== '' && !/^\d{1,9}$/.test(sequence))
    return refused(
      'sequence',
      `"${sequence}" is not a whole number.`,
      'Whether this row is newer than what is known cannot be told.',
      'Mend the number, or leave the column out.',
    )
  const text = oneLine(
    [cell('work'), cell('tooth'), cell('surfaces')].filter((part) => part !== '').join(' '),
  )
  return withHash({
    line: row.line,
    externalId: idOf(cell),
    recurrenceKey: '',
    sequence: sequence === '' ? null : Number(sequence),
    stamp: parseStamp(cell('changed')),
    status,
    day: when.day,
    startsAt: when.time,
    zone,
    start: when.start,
    minutes,
    operatory: cell('operatory') || null,
    dentist: cell('dentist') || null,
    patient,
    work: !has(reading, 'work', 'tooth', 'surfaces')
      ? null
      : text === ''
        ? []
        : [{ text, teeth: [], surfaces: surfacesOf(cell('surfaces')) }],
    note: has(reading, 'note', null)
      ? [cell('note'), ...leftovers(row, reading.columns)]
          .filter((part) => part !== '')
          .join(' · ')
          .replace(/\r\n?/g, '\n')
      : null,
  })
}

const oneLine = (text: string): string => text.replace(/\s+/g, ' ').trim()

/** Whether the file has such a column; null for one that is mapped nowhere. */
const has = ({ columns }: Pick<Reading, 'columns'>, ...fields: (CsvField | null)[]): boolean =>
  columns.some(({ field }) => fields.includes(field))

const idOf = (cell: (field: CsvField) => string): string | null =>
  ownIdOf(cell('ownId')) ?? (cell('id') || null)

/** Our own exports name the appointment by our own id, which is known again whatever the source. */
const ownIdOf = (text: string): string | null => (text === '' ? null : `weirboard:${text}`)

/** Columns that are not mapped keep their words in the note. */
const leftovers = (row: CsvRow, columns: Column[]): string[] =>
  columns.flatMap(({ header, field }, index) => {
    const text = (row.cells[index] ?? '').trim()
    return field === null && text !== '' ? [`${header}: ${text}`] : []
  })

const surfacesOf = (text: string) => {
  const letters = text
    .toUpperCase()
    .replace(/[^A-Z]/g, '')
    .split('')
  return letters.every(isSurface) ? [...new Set(letters)].filter(isSurface) : []
}

interface When {
  day: Day
  time: ClockTime
  start: Instant
}

/** Date and time from one cell. A time at the end is split off. */
function splitStart(text: string): { date: string; time: string } {
  const found = /^(.+?)[\s,T]+(\d{1,2}(?:[:.hH]\d{2}){1,2}(?:\.\d+)?\s*(?:[ap]\.?\s?m\.?)?)$/i.exec(
    text.trim(),
  )
  return found ? { date: found[1] ?? '', time: found[2] ?? '' } : { date: text, time: '' }
}

function readWhen(cell: (field: CsvField) => string, { order, options }: Reading): When | Refused {
  const { zone } = options
  const exact = parseStamp(cell('start'))
  if (exact !== null) return inZone(exact, zone)
  const { field, date, said } = wordsOfWhen(cell)
  const shape = shapeOfDate(date, options.serials)
  const day = dayOfShape(shape, { order, birth: false })
  if (!day.ok) return dateRefusal(field, date, day.reasons[0] ?? 'unreadable')
  const time = said === '' && shape.kind === 'day' ? clockOf(shape.time) : parseTime(said)
  if (time === null) return noTime(cell('start') === '' ? 'time' : 'start', said)
  const at = localInstant(day.value, time, zone)
  return at.ok ? { day: day.value, time, start: at.value } : timeRefusal(day.value, time, zone)
}

/** Which cells hold the date and the time. A column named "start" beside one named "date" holds a time only. */
function wordsOfWhen(cell: (field: CsvField) => string): { field: CsvField; date: string; said: string } {
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

const clockOf = (minutes: number | null): ClockTime | null =>
  minutes === null
    ? null
    : (`${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}` as ClockTime)

export const timeRefusal = (day: Day, time: ClockTime, zone: Zone): Refused =>
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
  order: ['Day and month cannot be told apart in this file.', 'Say which comes first, and preview again.'],
}
function dateRefusal(field: string, text: string, why: DateRefusal): Refused {
  const [what, todo] = DATE_REFUSALS[why]
  return refused(
    field,
    text === '' ? what : `"${text}": ${what}`,
    'A wrong date puts the wrong patient in the chair.',
    todo,
  )
}

function readMinutes(cell: (field: CsvField) => string, when: When): number | Refused {
  const said = cell('minutes')
  const end = cell('endTime')
  const broken = (field: string, text: string) =>
    refused(
      field,
      `"${text}" is not a length or an end after the start.`,
      'How long the operatory is taken cannot be told.',
      'Mend it and bring the file again.',
    )
  if (said !== '') return parseMinutes(said) ?? broken('minutes', said)
  if (end === '') return ASSUMED_MINUTES
  const exact = parseStamp(end)
  if (exact !== null)
    return exact > when.start ? Math.round((exact - when.start) / 60_000) : broken('endTime', end)
  const time = parseTime(splitStart(end).time || end)
  if (time === null || time <= when.time) return broken('endTime', end)
  const [from, to] = [when.time, time].map((clock) => Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3)))
  return (to ?? 0) - (from ?? 0)
}

function readPatient(
  cell: (field: CsvField) => string,
  { order, source, serials }: { order: DateOrder | null; source: string; serials: '1900' | '1904' },
): IncomingPatient | Refused {
  const whole = parsePersonName(cell('patient'))
  const given = cell('given') || whole.given
  const family = cell('family') || whole.family
  if (family === '' && given === '')
    return refused(
      'patient',
      'The row names no patient.',
      'Nobody can be expected, and no allergy can be looked up.',
      'Add the name and bring the file again, or enter this appointment by hand.',
    )
  const bornText = cell('born')
  const born = bornText === '' ? null : dayOfShape(shapeOfDate(bornText, serials), { order, birth: true })
  if (born !== null && !born.ok) return dateRefusal('born', bornText, born.reasons[0] ?? 'unreadable')
  const number = cell('patientNumber')
  return {
    given,
    family,
    born: born === null ? null : born.value,
    identifiers: number === '' ? [] : [{ system: source, value: number }],
  }
}

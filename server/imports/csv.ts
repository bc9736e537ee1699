import { canonicalJson } from '#shared/base/canonical.ts'
import {
  coverageOf,
  type Incoming,
  type IncomingAppointment,
  type IncomingPatient,
  type IncomingWork,
} from '#shared/schedule/incoming.ts'
import { type Column, type CsvField, cellOf, idIn, isOwnFile } from './csv-columns.ts'
import type { CsvRow } from './csv-rows.ts'
import { type CsvTable, readTable } from './csv-table.ts'
import {
  chosenOrder,
  type DateOrder,
  type DateShape,
  dayOfShape,
  orderOf,
  parseStatus,
  shapeOfDate,
} from './csv-values.ts'
import {
  ASSUMED_MINUTES,
  type Cell,
  dateRefusal,
  isRefused,
  type Refused,
  readChanged,
  readMinutes,
  readWhen,
  refused,
  splitStart,
} from './csv-when.ts'
import { sayLetters } from './decode.ts'
import { emptyIncoming, parsePersonName, problemOf, type ReadOptions, withHash } from './incoming.ts'
import { askedOn, inZone, parseStamp } from './moments.ts'
import { readWorkLine, surfacesOf } from './work-line.ts'

/** A day list as read, with what a preview shows beside it: encoding, delimiter, columns with a sample, date order. */
export interface CsvIncoming extends Incoming {
  table: {
    encoding: string
    delimiter: string
    columns: (Column & { sample: string })[]
    dateOrder: DateOrder | 'ask' | 'conflict' | null
  }
}

export function parseCsv(bytes: Uint8Array, options: ReadOptions): CsvIncoming {
  const table = readTable(bytes, options.mapping ?? {})
  const { columns } = table
  const allowed = orderOf(dateShapes(table, columns, options))
  const reading: Reading = { columns, options, order: chosenOrder(allowed, options.dateOrder ?? null) }
  const incoming: CsvIncoming = {
    ...emptyIncoming('csv'),
    rows: table.rows.length + table.problems.filter(({ field }) => field === 'row').length,
    problems: [...table.problems],
    passedOver: table.passedOver,
    assumed: assumptionsOf(table, reading),
    table: {
      encoding: table.encoding,
      delimiter: table.delimiter,
      columns: columns.map((column, index) => ({
        ...column,
        sample: (table.rows[0]?.cells ?? table.samples)[index] ?? '',
      })),
      dateOrder: reading.order ?? openOrder(allowed),
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

/** What the file says where it leaves the order open, or contradicts what was chosen. */
function openOrder(allowed: readonly DateOrder[] | null): DateOrder | 'ask' | 'conflict' | null {
  if (allowed === null) return null
  const [only, ...more] = allowed
  return only === undefined ? 'conflict' : more.length === 0 ? only : 'ask'
}

function* dateShapes(table: CsvTable, columns: Column[], { serials }: ReadOptions): Generator<DateShape> {
  for (const row of table.rows)
    for (const [index, { field }] of columns.entries())
      if (field === 'born' || field === 'allergiesAsked') yield shapeOfDate(row.cells[index] ?? '', serials)
      else if (field === 'day' || field === 'start' || field === 'changed')
        yield shapeOfDate(splitStart(row.cells[index] ?? '').date, serials)
}

function assumptionsOf(table: CsvTable, { columns, order }: Reading): string[] {
  const assumed = sayLetters(table)
  if (order === 'ymd' && table.rows.length > 0) assumed.push('Dates are read year first.')
  if (order === 'dmy') assumed.push('Dates are read day first.')
  if (order === 'mdy') assumed.push('Dates are read month first.')
  if (table.rows.length > 0 && !has({ columns }, 'minutes', 'endTime'))
    assumed.push(`The file gives no lengths: ${ASSUMED_MINUTES} minutes are taken for each appointment.`)
  return assumed
}

function takeRow(incoming: CsvIncoming, row: CsvRow, reading: Reading): void {
  const cell: Cell = (field) => cellOf(row, reading.columns, field)
  const read = readRow(cell, row, reading)
  if (isRefused(read)) {
    incoming.problems.push(
      problemOf(
        { line: row.line, field: read.field, original: row.original, externalId: idIn(cell) },
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
function readAllergies(cell: Cell, { order, options }: Reading) {
  const [text, said] = [cell('allergies'), cell('allergiesAsked')]
  if (said === '') return { text, asked: null }
  const exact = parseStamp(said)
  if (exact !== null) return { text, asked: { by: null, at: exact, day: inZone(exact, options.zone).day } }
  const day = dayOfShape(shapeOfDate(said, options.serials), { order, birth: false })
  return day.ok
    ? { text, asked: askedOn(day.value, options.zone) }
    : { text: `${text} (asked: ${said})`, asked: null }
}

function readRow(cell: Cell, row: CsvRow, reading: Reading): IncomingAppointment | Refused {
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
  const minutes = readMinutes(cell, when, reading)
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
  const changed = readChanged(cell, reading)
  if (typeof changed === 'object' && changed !== null) return changed
  return withHash({
    line: row.line,
    externalId: idIn(cell),
    recurrenceKey: '',
    sequence: sequence === '' ? null : Number(sequence),
    stamp: changed,
    status,
    day: when.day,
    startsAt: when.time,
    zone,
    start: when.start,
    ...(when.byClock ? { byClock: true } : {}),
    minutes,
    operatory: cell('operatory') || null,
    dentist: cell('dentist') || null,
    patient,
    work: has(reading, 'work', 'tooth', 'surfaces') ? readWork(cell, reading) : null,
    note: has(reading, 'note', null) ? noteOf(cell, row, reading) : null,
    ...(cell('ownId') === '' ? {} : { ofOurs: { form: 'words', mark: cell('ownMark') || null } }),
  })
}

/** The words of our own files are taken as they stand: brought back, they change nothing. */
function readWork(cell: Cell, { columns, options }: Reading): IncomingWork[] {
  const [work, tooth, surfaces] = [cell('work'), cell('tooth'), cell('surfaces')]
  if (isOwnFile(columns))
    return work === '' ? [] : [{ text: work, teeth: [], surfaces: surfacesOf(surfaces) }]
  return [readWorkLine({ work, tooth, surfaces }, options.notation) ?? []].flat()
}

const noteOf = (cell: Cell, row: CsvRow, { columns }: Reading): string =>
  isOwnFile(columns) && leftovers(row, columns).length === 0
    ? cell('note')
    : [cell('note'), ...leftovers(row, columns)]
        .filter((part) => part !== '')
        .join(' · ')
        .replace(/\r\n?/g, '\n')

/** Whether the file has such a column; null for one that is mapped nowhere. */
const has = ({ columns }: Pick<Reading, 'columns'>, ...fields: (CsvField | null)[]): boolean =>
  columns.some(({ field }) => fields.includes(field))

/** Columns that are not mapped keep their words in the note. */
const leftovers = (row: CsvRow, columns: Column[]): string[] =>
  columns.flatMap(({ header, field }, index) => {
    const text = (row.cells[index] ?? '').trim()
    return field === null && text !== '' ? [`${header}: ${text}`] : []
  })

function readPatient(
  cell: Cell,
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

import type { IncomingProblem, PassedOver } from '#shared/schedule/incoming.ts'
import {
  type Column,
  cellOf,
  doubledHeaders,
  idIn,
  knownHeaders,
  mapColumns,
  rivalColumns,
} from './csv-columns.ts'
import { type CsvRow, parseRows } from './csv-rows.ts'
import { parseTime, shapeOfDate } from './csv-values.ts'
import { splitStart } from './csv-when.ts'
import { type Decoded, decode, LOST, lostLetter } from './decode.ts'
import { problemOf } from './incoming.ts'

export const DELIMITERS = [',', ';', '\t', '|'] as const

/** A delimited file as a table: headers, whole rows, and what stands in neither. */
export interface CsvTable {
  encoding: Decoded['encoding']
  marked: boolean
  delimiter: string
  /** The letters of some row could not be read, and stand as U+FFFD. */
  damaged: boolean
  headers: string[]
  /** What each header stands for. */
  columns: Column[]
  rows: CsvRow[]
  /** A row to show beside the columns; empty where there is none. */
  samples: string[]
  problems: IncomingProblem[]
  passedOver: PassedOver[]
}

/** A header stands within the first lines, or nowhere. */
const HEADER_WITHIN = 15
/** Words that close a list. Some are names too, so they close it only where nothing else stands in the row. */
const CLOSING = /^(printed|end of (list|report))\b/i
const TOTALS = /^(totals?|summe|gesamt)\b[^,]*$|^(sum|count|page)[\s:.\d]*(of\s*\d+)?$/i

export function readTable(bytes: Uint8Array, mapping: Record<string, string>): CsvTable {
  const { text, encoding, marked, damaged } = decode(bytes)
  const separator = /^sep=(.)\r?\n?|^"sep=(.)"\r?\n?/i.exec(text)
  const said = separator?.[1] ?? separator?.[2]
  const chosen = chooseHeader(text, said === undefined ? DELIMITERS : [said], mapping)
  const rows = parseRows(text, chosen.delimiter)
  const found = rows[chosen.index]
  const bareNames = chosen.known === 0 ? namesByPlace(rows) : null
  const isNamedByPlace = bareNames?.some((name) => Object.hasOwn(mapping, name)) ?? false
  const headers = isNamedByPlace
    ? (bareNames ?? [])
    : chosen.known === 0
      ? []
      : (found?.cells.map((cell) => cell.trim()) ?? [])
  const table: CsvTable = {
    encoding,
    marked,
    damaged,
    delimiter: chosen.delimiter,
    headers,
    columns: mapColumns(headers, mapping),
    samples: [],
    rows: [],
    problems: [],
    passedOver: [],
  }
  if (text.trim() === '') return withFileProblem(table, EMPTY)
  if (chosen.known === 0 && !isNamedByPlace)
    return offerColumns(
      withFileProblem(table, { ...NO_HEADERS, original: rows[0]?.original ?? '' }),
      rows,
      bareNames,
    )
  const doubled = doubledHeaders(table.headers)
  if (doubled.length > 0) return withFileProblem(table, doubledProblem(doubled, found))
  const [rivals] = rivalColumns(table.columns, mapping)
  // The columns stay, so that a person can say which one is meant.
  if (rivals) return { ...table, problems: [rivalProblem(rivals, found)] }
  for (const row of rows.slice(0, chosen.index))
    table.passedOver.push({ line: row.line, why: 'above the header' })
  for (const row of rows.slice(isNamedByPlace ? 0 : chosen.index + 1)) sortRow(table, row)
  return table
}

const isBlank = ({ cells }: CsvRow): boolean => cells.every((cell) => cell.trim() === '')

/** Where the first row holds a date or a time it is somebody's, no header: its columns are named by their place. */
function namesByPlace(rows: readonly CsvRow[]): string[] | null {
  const first = rows.find((row) => !isBlank(row))
  const isSomebodys = first?.cells.some((cell) => {
    const { date, time } = splitStart(cell.trim())
    return shapeOfDate(date).kind !== 'none' || parseTime(time || date) !== null
  })
  return first && isSomebodys ? first.cells.map((_, index) => `Column ${index + 1}`) : null
}

/** No row is taken, but a person can say which column is which: by the first row's names, or by place. */
function offerColumns(table: CsvTable, rows: readonly CsvRow[], byPlace: string[] | null): CsvTable {
  const [first, second] = rows.filter((row) => !isBlank(row))
  const headers = byPlace ?? first?.cells.map((cell) => cell.trim()) ?? []
  const samples = (byPlace ? first : second)?.cells
  if (headers.length < 2 || samples === undefined || doubledHeaders(headers).length > 0) return table
  return { ...table, columns: headers.map((header) => ({ header, field: null })), samples }
}

function sortRow(table: CsvTable, row: CsvRow): void {
  const width = table.headers.length
  const where = {
    line: row.line,
    field: 'row',
    original: row.original,
    externalId: idIn((field) => cellOf(row, table.columns, field)),
  }
  if (!row.broken && row.cells.every((cell) => cell.trim() === '')) {
    table.passedOver.push({ line: row.line, why: 'blank' })
    return
  }
  if (row.broken) {
    table.problems.push(
      problemOf(
        where,
        'A quotation mark in this row is never closed, or has words after it.',
        'Where one cell ends and the next begins cannot be known.',
        'Mend the quotation marks in the file and bring it again, or enter this appointment by hand.',
      ),
    )
    return
  }
  const cells = row.cells.slice(0, width)
  const spilled = row.cells.slice(width).some((cell) => cell.trim() !== '')
  if (isFooter(cells, table)) {
    table.passedOver.push({ line: row.line, why: 'a total or a footer' })
    return
  }
  if (row.cells.length < width || spilled) {
    table.problems.push(
      problemOf(
        where,
        `This row has ${row.cells.length} cells where the header has ${width}.`,
        'A cell may have slipped into the wrong column.',
        'Mend the row in the file and bring it again, or enter this appointment by hand.',
      ),
    )
    return
  }
  if (table.damaged && row.original.includes(LOST)) {
    table.problems.push(problemOf(where, ...lostLetter('row')))
    return
  }
  table.rows.push({ ...row, cells: cells.map(plainCell) })
}

/** `="000123"`: how a spreadsheet is made to keep figures as they are. */
const plainCell = (cell: string): string =>
  /^\s*="((?:[^"]|"")*)"\s*$/.exec(cell)?.[1]?.replaceAll('""', '"') ?? cell

/** A row that closes the list. One with words of its own, a date or a time may be somebody of such a name: it is told. */
function isFooter(cells: readonly string[], { columns }: CsvTable): boolean {
  const [first = '', ...rest] = cells.map((cell) => cell.trim())
  if (CLOSING.test(first))
    return rest.filter((cell) => cell !== '').length < Math.max(2, columns.length / 2 - 1)
  return (
    TOTALS.test(first) &&
    rest.every((cell) => !/\p{L}/u.test(cell)) &&
    !cells.some((cell, index) => isMoment(cell.trim(), columns[index]))
  )
}

function isMoment(cell: string, column: Column | undefined): boolean {
  const { date, time } = splitStart(cell)
  switch (column?.field) {
    case 'start':
    case 'day':
      return shapeOfDate(date).kind !== 'none' || parseTime(time || date) !== null
    case 'time':
      return parseTime(cell) !== null
    default:
      return false
  }
}

interface Choice {
  delimiter: string
  index: number
  known: number
}

/** The delimiter that makes the most known headers appear, and the row in which they do. */
function chooseHeader(text: string, delimiters: readonly string[], mapping: Record<string, string>): Choice {
  const head = text.slice(0, 64 * 1024)
  let best: Choice & { cells: number } = { delimiter: delimiters[0] ?? ',', index: 0, known: 0, cells: 0 }
  for (const delimiter of delimiters)
    parseRows(head, delimiter)
      .slice(0, HEADER_WITHIN)
      .forEach(({ cells }, index) => {
        const known = knownHeaders(cells, mapping)
        if (
          known > best.known ||
          (known > 0 && known === best.known && cells.length > best.cells && index === best.index)
        )
          best = { delimiter, index, known, cells: cells.length }
      })
  return best.known > 0 ? best : { ...best, delimiter: widestDelimiter(head, delimiters) }
}

/** Where no header is known: what parts the first rows into most cells, as many in each. */
function widestDelimiter(head: string, delimiters: readonly string[]): string {
  const [widest] = delimiters
    .map((delimiter) => {
      const counts = parseRows(head, delimiter)
        .filter((row) => !isBlank(row))
        .slice(0, HEADER_WITHIN)
        .map(({ cells }) => cells.length)
      return { delimiter, cells: Math.min(...counts) }
    })
    .sort((one, other) => other.cells - one.cells)
  return widest?.delimiter ?? ','
}

interface FileProblem {
  what: string
  why: string
  todo: string
  original?: string
  line?: number
  field?: string
}
const withFileProblem = (
  table: CsvTable,
  { what, why, todo, original = '', line = 1, field = 'file' }: FileProblem,
): CsvTable => ({
  ...table,
  headers: [],
  columns: [],
  rows: [],
  problems: [problemOf({ line, field, original }, what, why, todo)],
})

const EMPTY: FileProblem = {
  what: 'The file is empty.',
  why: 'No appointment can be read from it and nothing was changed.',
  todo: 'Save the list again in the system it comes from and bring the new file.',
}
const NO_HEADERS: FileProblem = {
  what: 'No row of the file has column names that are known here.',
  why: 'Without them no cell can be told from another.',
  todo: 'Add a first row such as Date, Time, Patient, or say which column is which.',
}
const doubledProblem = (doubled: string[], row: CsvRow | undefined): FileProblem => ({
  what: `The column name ${doubled.map((name) => `"${name}"`).join(', ')} stands twice in the header.`,
  why: 'Which of the two is meant cannot be known, and the wrong one would move appointments.',
  todo: 'Rename or remove one of the two columns in the file and bring it again.',
  original: row?.original ?? '',
  line: row?.line ?? 1,
  field: doubled[0] ?? 'file',
})

const rivalProblem = (rivals: readonly Column[], row: CsvRow | undefined): IncomingProblem =>
  problemOf(
    { line: row?.line ?? 1, field: rivals[0]?.header ?? 'file', original: row?.original ?? '' },
    `The columns ${rivals.map(({ header }) => `"${header}"`).join(' and ')} can be the same thing.`,
    'Which of them holds cannot be known, and the wrong one would move appointments, so no row was taken.',
    'Say for each of these columns what it is, or that it is nothing, and preview again.',
  )

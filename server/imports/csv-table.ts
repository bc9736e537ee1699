import type { IncomingProblem, PassedOver } from '#shared/schedule/incoming.ts'
import { doubledHeaders, knownHeaders } from './csv-columns.ts'
import { type CsvRow, parseRows } from './csv-rows.ts'
import { type Decoded, decode } from './decode.ts'
import { problemOf } from './incoming.ts'

export const DELIMITERS = [',', ';', '\t', '|'] as const

/** A delimited file as a table: headers, whole rows, and what stands in neither. */
export interface CsvTable {
  encoding: Decoded['encoding']
  marked: boolean
  delimiter: string
  headers: string[]
  headerLine: number
  rows: CsvRow[]
  problems: IncomingProblem[]
  passedOver: PassedOver[]
}

/** A header stands within the first lines, or nowhere. */
const HEADER_WITHIN = 15
const TOTALS = /^(total|totals|sum|summe|gesamt|count|page|printed|end of (list|report))\b/i

export function readTable(bytes: Uint8Array, mapping: Record<string, string>): CsvTable {
  const { text, encoding, marked } = decode(bytes)
  const separator = /^sep=(.)\r?\n?|^"sep=(.)"\r?\n?/i.exec(text)
  const said = separator?.[1] ?? separator?.[2]
  const chosen = chooseHeader(text, said === undefined ? DELIMITERS : [said], mapping)
  const rows = parseRows(text, chosen.delimiter)
  const found = rows[chosen.index]
  const table: CsvTable = {
    encoding,
    marked,
    delimiter: chosen.delimiter,
    headers: chosen.known === 0 ? [] : (found?.cells.map((cell) => cell.trim()) ?? []),
    headerLine: found?.line ?? 1,
    rows: [],
    problems: [],
    passedOver: [],
  }
  if (text.trim() === '') return withFileProblem(table, EMPTY)
  if (chosen.known === 0) return withFileProblem(table, { ...NO_HEADERS, original: rows[0]?.original ?? '' })
  const doubled = doubledHeaders(table.headers)
  if (doubled.length > 0) return withFileProblem(table, doubledProblem(doubled, found))
  for (const row of rows.slice(0, chosen.index))
    table.passedOver.push({ line: row.line, why: 'above the header' })
  for (const row of rows.slice(chosen.index + 1)) sortRow(table, row)
  return table
}

function sortRow(table: CsvTable, row: CsvRow): void {
  const width = table.headers.length
  const where = { line: row.line, field: 'row', original: row.original }
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
  if (
    TOTALS.test(cells[0]?.trim() ?? '') &&
    cells.filter((cell) => cell.trim() !== '').length < Math.max(3, width / 2)
  ) {
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
  table.rows.push({ ...row, cells })
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
  return best
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

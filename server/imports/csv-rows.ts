/** A row of a delimited file: its cells, where it began, and how it stood. */
export interface CsvRow {
  cells: string[]
  /** The line of the file on which it begins, from 1. */
  line: number
  original: string
  /** A quote that was never closed, or words after a closing quote. */
  broken: boolean
}

/** After so many rows with a stray opening quote, quotes no longer join lines: a file cannot make this slow. */
const MOST_BROKEN = 25

/**
 * RFC 4180 and reality: every kind of line end, quoted line breaks, quotes in the middle of an unquoted cell kept as they are.
 * A row whose quotes do not close is ended at its own line, so that the rows after it are not swallowed.
 */
export function parseRows(text: string, delimiter: string): CsvRow[] {
  const rows: CsvRow[] = []
  let at = 0
  let line = 1
  let broken = 0
  while (at < text.length) {
    const whole = broken < MOST_BROKEN ? readRow(text, at, delimiter) : null
    const row = whole ?? readPlainRow(text, at, delimiter)
    if (whole === null && row.original.includes('"')) broken += 1
    rows.push({
      cells: row.cells,
      line,
      original: row.original,
      broken: whole === null && row.original.includes('"'),
    })
    line += countLines(text, at, row.next)
    at = row.next
  }
  return rows
}

interface Read {
  cells: string[]
  original: string
  next: number
}

/** One row with its quotes; null where a quote does not close as it should. */
function readRow(text: string, from: number, delimiter: string): Read | null {
  const cells: string[] = []
  let at = from
  for (;;) {
    const cell = text[at] === '"' ? readQuoted(text, at) : readBare(text, at, delimiter)
    if (cell === null) return null
    cells.push(cell.value)
    at = cell.next
    if (text[at] === delimiter) {
      at += 1
      continue
    }
    if (at < text.length && text[at] !== '\r' && text[at] !== '\n') return null
    return { cells, original: text.slice(from, at), next: afterLineEnd(text, at) }
  }
}

function readQuoted(text: string, from: number): { value: string; next: number } | null {
  let value = ''
  let at = from + 1
  for (;;) {
    const quote = text.indexOf('"', at)
    if (quote < 0) return null
    value += text.slice(at, quote)
    if (text[quote + 1] !== '"') return { value, next: quote + 1 }
    value += '"'
    at = quote + 2
  }
}

function readBare(text: string, from: number, delimiter: string): { value: string; next: number } {
  let next = from
  while (next < text.length && text[next] !== delimiter && text[next] !== '\n' && text[next] !== '\r')
    next += 1
  return { value: text.slice(from, next), next }
}

/** One physical line, its quotes as they stand. */
function readPlainRow(text: string, from: number, delimiter: string): Read {
  const end = endOfLine(text, from)
  const original = text.slice(from, end)
  return { cells: original.split(delimiter), original, next: afterLineEnd(text, end) }
}

const LINE_END = /[\r\n]/g
function endOfLine(text: string, from: number): number {
  LINE_END.lastIndex = from
  return LINE_END.exec(text)?.index ?? text.length
}

const afterLineEnd = (text: string, at: number): number =>
  text[at] === '\r' && text[at + 1] === '\n' ? at + 2 : Math.min(at + 1, text.length)

function countLines(text: string, from: number, to: number): number {
  let count = 0
  for (let at = from; at < to; at = afterLineEnd(text, at)) {
    at = endOfLine(text, at)
    if (at < to) count += 1
  }
  return count
}

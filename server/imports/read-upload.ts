import { createHash } from 'node:crypto'
import type { ImportFormat } from '#shared/schedule/import-batch.ts'
import type { Coverage, Incoming } from '#shared/schedule/incoming.ts'
import { type CsvIncoming, parseCsv } from './csv.ts'
import { decode } from './decode.ts'
import { parseFhir, parseNdjson } from './fhir.ts'
import { parseICalendar } from './icalendar.ts'
import { daysFrom, emptyIncoming, LARGEST_FILE_BYTES, problemOf, type ReadOptions } from './incoming.ts'
import { keepWithin } from './limits.ts'

/** A file as read: what it says, and what it was. */
export interface Upload {
  file: { name: string; digest: string; format: ImportFormat }
  incoming: Incoming
  /** The columns and their proposed fields, for a delimited file. */
  table: CsvIncoming['table'] | null
}

/** What a file is, told by its content and never by its name; or why it is nothing we read. */
export function formatOf(bytes: Uint8Array): ImportFormat | 'workbook' | 'pdf' | 'xml' {
  const head = decode(bytes.subarray(0, 4096)).text.trimStart()
  if (head.startsWith('PK\u0003\u0004') || bytes[0] === 0xd0) return 'workbook'
  if (head.startsWith('%PDF')) return 'pdf'
  if (head.startsWith('<')) return 'xml'
  if (/^begin:vcalendar/i.test(head)) return 'icalendar'
  if (head.startsWith('[')) return 'fhir'
  if (head.startsWith('{')) return isOneObjectALine(bytes) ? 'ndjson' : 'fhir'
  return 'csv'
}

/** The first line is a whole object by itself and another follows. */
function isOneObjectALine(bytes: Uint8Array): boolean {
  const end = bytes.indexOf(0x0a)
  if (end < 0) return false
  const rest = decode(bytes.subarray(end, end + 256)).text.trimStart()
  if (!rest.startsWith('{')) return false
  try {
    JSON.parse(decode(bytes.subarray(0, end)).text)
    return true
  } catch {
    return false
  }
}

const READERS: Record<ImportFormat, (bytes: Uint8Array, options: ReadOptions) => Incoming> = {
  csv: parseCsv,
  fhir: parseFhir,
  ndjson: parseNdjson,
  icalendar: parseICalendar,
}

const NOT_READ: Record<'workbook' | 'pdf' | 'xml' | 'large', [string, string, string]> = {
  workbook: [
    'This is a spreadsheet workbook.',
    'Its cells may hold formulas and several sheets, so which rows count cannot be told.',
    'Save the sheet as CSV and bring that file.',
  ],
  pdf: [
    'This is a PDF.',
    'Its words have no rows and columns that can be trusted.',
    'Export the list as CSV, iCalendar or FHIR JSON and bring that file.',
  ],
  xml: [
    'This is XML or a web page.',
    'Only the JSON form of FHIR is read here.',
    'Export the list as CSV, iCalendar or FHIR JSON and bring that file.',
  ],
  large: [
    `The file is larger than ${LARGEST_FILE_BYTES / 1024 / 1024} MB.`,
    'No day list is that long: it may be the wrong file, and reading it would hold everybody up.',
    'Export the days you need and bring that file.',
  ],
}

/** Reads a file here and now. Pure: the same bytes and options give the same answer. */
export function readNow(bytes: Uint8Array, fileName: string, options: ReadOptions): Upload {
  const digest = createHash('sha256').update(bytes).digest('hex')
  const format = bytes.length > LARGEST_FILE_BYTES ? 'large' : formatOf(bytes)
  if (format === 'workbook' || format === 'pdf' || format === 'xml' || format === 'large') {
    const problem = problemOf({ line: 1, field: 'file', original: '' }, ...NOT_READ[format])
    return {
      file: { name: fileName, digest, format: 'csv' },
      incoming: { ...emptyIncoming('csv'), problems: [problem] },
      table: null,
    }
  }
  const read = READERS[format](bytes, options)
  return {
    file: { name: fileName.slice(0, 200), digest, format },
    incoming: keepWithin({ ...withoutTable(read), covers: coversSaid(read, options) }),
    table: 'table' in read ? (read as CsvIncoming).table : null,
  }
}

/** What the file speaks for, or what a person says that it does. */
function coversSaid({ covers }: Incoming, { wholeOf }: ReadOptions): Coverage | null {
  if (wholeOf === undefined) return covers
  if (wholeOf === null) return null
  const operatories = covers?.operatories?.length ? covers.operatories : null
  return { days: daysFrom(wholeOf.first, wholeOf.last), operatories }
}

function withoutTable(incoming: Incoming): Incoming {
  const { format, rows, appointments, allergies, problems, passedOver, covers, assumed } = incoming
  return { format, rows, appointments, allergies, problems, passedOver, covers, assumed }
}

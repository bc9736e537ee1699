import { createHash } from 'node:crypto'
import type { ImportFormat } from '#shared/schedule/import-batch.ts'
import type { Coverage, Incoming } from '#shared/schedule/incoming.ts'
import { type CsvIncoming, parseCsv } from './csv.ts'
import { decode } from './decode.ts'
import { parseFhir, parseNdjson } from './fhir.ts'
import { parseICalendar } from './icalendar.ts'
import {
  daysFrom,
  emptyIncoming,
  LARGEST_FILE_BYTES,
  LARGEST_NDJSON_BYTES,
  problemOf,
  type ReadOptions,
} from './incoming.ts'
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
  if (head.startsWith('PK\u0003\u0004') || OLD_WORKBOOK.every((byte, index) => bytes[index] === byte))
    return 'workbook'
  if (head.startsWith('%PDF')) return 'pdf'
  if (head.startsWith('<')) return 'xml'
  if (/^begin:vcalendar/i.test(head)) return 'icalendar'
  if (/^\[\s*([{[\]]|$)/.test(head)) return 'fhir'
  if (/^\{\s*(["}]|$)/.test(head)) return isOneObjectALine(bytes) ? 'ndjson' : 'fhir'
  return 'csv'
}

/** How a compound file of an old spreadsheet begins ([MS-CFB] section 2.2, READ). The first byte alone is a letter too. */
const OLD_WORKBOOK = [0xd0, 0xcf, 0x11, 0xe0] as const

/** A line break between two objects: inside a Bundle one can only follow a bracket, a comma or a colon. */
function isOneObjectALine(bytes: Uint8Array): boolean {
  const from = bytes.indexOf(BRACE)
  const end = bytes.indexOf(0x0a, from)
  if (from < 0 || end < 0) return false
  const before = decode(bytes.subarray(Math.max(from, end - 256), end)).text.trimEnd()
  const after = decode(bytes.subarray(end, end + 256)).text.trimStart()
  return after.startsWith('{') && !/[[,:]$/.test(before)
}
const BRACE = 0x7b

const READERS: Record<ImportFormat, (bytes: Uint8Array, options: ReadOptions) => Incoming> = {
  csv: parseCsv,
  fhir: parseFhir,
  ndjson: parseNdjson,
  icalendar: parseICalendar,
}

const MEGABYTE = 1024 * 1024
const NOT_READ: Record<'workbook' | 'pdf' | 'xml' | 'large' | 'large-lines', [string, string, string]> = {
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
    `The file is larger than ${LARGEST_FILE_BYTES / MEGABYTE} MB.`,
    'No day list is that long: it may be the wrong file, and reading it would hold everybody up.',
    'Export the days you need and bring that file.',
  ],
  'large-lines': [
    `The file is larger than ${LARGEST_NDJSON_BYTES / MEGABYTE} MB.`,
    'It is kept as it came and given back whole, which a file of any length cannot be; none of it was read.',
    'Export the days or the kinds of resource you need, and bring those files.',
  ],
}
const isRead = (kind: ReturnType<typeof refusalOr>): kind is ImportFormat => !Object.hasOwn(NOT_READ, kind)

/** What the file is; or, where it is nothing we read, why. */
function refusalOr(bytes: Uint8Array): ImportFormat | keyof typeof NOT_READ {
  const format = formatOf(bytes)
  if (format === 'ndjson') return bytes.length > LARGEST_NDJSON_BYTES ? 'large-lines' : format
  return bytes.length > LARGEST_FILE_BYTES ? 'large' : format
}

/** Reads a file here and now. Pure: the same bytes and options give the same answer. */
export function readNow(bytes: Uint8Array, fileName: string, options: ReadOptions): Upload {
  const digest = createHash('sha256').update(bytes).digest('hex')
  const format = refusalOr(bytes)
  if (!isRead(format)) {
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

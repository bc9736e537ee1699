import { canonicalJson } from '#shared/base/canonical.ts'
import { digestOf } from '#shared/base/digest.ts'
import { type Day, dayAfter, type Zone } from '#shared/base/moment.ts'
import type { Ending, ImportFormat } from '#shared/schedule/import-batch.ts'
import type {
  Incoming,
  IncomingAppointment,
  IncomingProblem,
  IncomingWork,
  PassedOver,
} from '#shared/schedule/incoming.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'

/** What a reader must be told about a source. All of it is remembered per source. */
export interface ReadOptions {
  /** The source's name: the system of patient numbers that have none. */
  source: string
  /** The clinic's zone: local times are in it, instants are shown in it. */
  zone: Zone
  notation: Notation
  /** Column → field, where a person corrected the proposed mapping. */
  mapping?: Record<string, string>
  /** The order of figures in dates, where a person chose it. */
  dateOrder?: 'ymd' | 'dmy' | 'mdy' | null
  /** Day serials count from 1900 (the default) or 1904. */
  serials?: '1900' | '1904'
  /** Series are written out for these days, first and last, and one more at either end: zones differ by as much. */
  window?: { from: string; to: string }
  /** A calendar fetched from its address is the whole of it; with the days to come on which it has given something. */
  followed?: { given: Day[] }
  /** The days a person says it is the whole list of; null: it is a part, and nothing is missing from it. */
  wholeOf?: { first: Day; last: Day } | null
}

/** Files above this are refused unread. */
export const LARGEST_FILE_BYTES = 10 * 1024 * 1024
/**
 * The same for NDJSON, which is read one line at a time. It is still sent, kept and given back whole, so not without
 * end: as base64 it has to fit through the command line's socket.
 */
export const LARGEST_NDJSON_BYTES = 40 * 1024 * 1024
/** As much of a row as a list of problems shows. The whole stays in the kept file. */
export const LONGEST_ORIGINAL = 4000
const LONGEST_ID = 500

/** As many days as a file can speak for. */
export const MOST_DAYS_COVERED = 400

/** The days from one to another, both with it; no more than a file can speak for. */
export function daysFrom(first: Day, last: Day): Day[] {
  const days: Day[] = []
  for (let day = first; day <= last && days.length < MOST_DAYS_COVERED; day = dayAfter(day, 1)) days.push(day)
  return days
}

/** A problem in three parts: what, why it matters, what to do. */
export const problemOf = (
  where: { line: number; field: string; original: string; externalId?: string | null; ends?: Ending | null },
  ...parts: [what: string, why: string, todo: string]
): IncomingProblem => ({
  line: where.line,
  field: where.field,
  text: parts.join(' '),
  original: where.original.slice(0, LONGEST_ORIGINAL),
  ...(where.externalId && where.externalId.length <= LONGEST_ID ? { externalId: where.externalId } : {}),
  ...(where.ends ? { ends: where.ends } : {}),
})

/** More reasons than this are told as one, so that a list of them has an end. */
const MOST_REASONS = 100

/** Rows that are passed over by the hundred thousand: those with one reason are one entry, by its first line. */
export interface Passing {
  add: (line: number, why: string) => void
  all: () => PassedOver[]
}

export function openPassing(): Passing {
  const entries = new Map<string, { line: number; rows: number }>()
  return {
    add(line, reason) {
      const why =
        entries.has(reason) || entries.size < MOST_REASONS ? reason : 'Of a kind that is not read here'
      const known = entries.get(why)
      if (known) known.rows += 1
      else entries.set(why, { line, rows: 1 })
    },
    all: () => [...entries].map(([why, { line, rows }]) => ({ line, why, ...(rows > 1 ? { rows } : {}) })),
  }
}

export const emptyIncoming = (format: ImportFormat): Incoming => ({
  format,
  rows: 0,
  appointments: [],
  allergies: [],
  problems: [],
  passedOver: [],
  covers: null,
  assumed: [],
})

/** Gives an appointment the digest of what it says: not of where it or its lines stood, nor of when it was written. */
export function withHash(appointment: Omit<IncomingAppointment, 'contentHash'>): IncomingAppointment {
  const { line: _, sequence: __, stamp: ___, whole: ____, ofOurs: _____, ...content } = appointment
  const work =
    content.work && [...content.work].sort((one, other) => (textOfLine(one) < textOfLine(other) ? -1 : 1))
  return { ...appointment, contentHash: digestOf({ ...content, work }) }
}

const textOfLine = (line: IncomingWork): string => canonicalJson(line)

const TITLES = /^(?:(?:mr|mrs|ms|miss|mx|master|herr|frau|m|mme)\.?\s+)+(?=\S+\s)/i

/** "Family, Given" or "Given Family"; titles dropped. One word alone is a family name. */
export function parsePersonName(text: string): { given: string; family: string } {
  const plain = text.trim().replace(/\s+/g, ' ').replace(';', ',')
  const comma = plain.indexOf(',')
  if (comma >= 0)
    return {
      family: plain.slice(0, comma).trim(),
      given: plain
        .slice(comma + 1)
        .trim()
        .replace(/^(?:mr|mrs|ms|miss|mx|master)\.?\s+/i, ''),
    }
  const words = plain.replace(TITLES, '').split(' ')
  return { given: words.slice(0, -1).join(' '), family: words.at(-1) ?? '' }
}

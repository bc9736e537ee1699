import { digestOf } from '#shared/base/digest.ts'
import type { Zone } from '#shared/base/moment.ts'
import type { ImportFormat } from '#shared/schedule/import-batch.ts'
import type { Incoming, IncomingAppointment, IncomingProblem } from '#shared/schedule/incoming.ts'
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
}

/** Files above this are refused unread. */
export const LARGEST_FILE_BYTES = 10 * 1024 * 1024
/** As much of a row as a list of problems shows. The whole stays in the kept file. */
const LONGEST_ORIGINAL = 4000

/** A problem in three parts: what, why it matters, what to do. */
export const problemOf = (
  where: { line: number; field: string; original: string },
  ...parts: [what: string, why: string, todo: string]
): IncomingProblem => ({
  line: where.line,
  field: where.field,
  text: parts.join(' '),
  original: where.original.slice(0, LONGEST_ORIGINAL),
})

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

/** Gives an appointment the digest of what it says: not of where it stood, nor of when it was written. */
export function withHash(appointment: Omit<IncomingAppointment, 'contentHash'>): IncomingAppointment {
  const { line: _, sequence: __, stamp: ___, ...content } = appointment
  return { ...appointment, contentHash: digestOf(content) }
}

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

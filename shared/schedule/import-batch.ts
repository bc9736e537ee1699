import type { Day, Instant, Minutes } from '../base/moment.ts'
import type {
  AppointmentId,
  CalendarAddressId,
  ClinicId,
  ImportBatchId,
  ImportProblemId,
  ImportSourceId,
  MemberId,
} from '../ids.ts'
import type { Notation } from '../teeth/notation-names.ts'
import type { Version } from './appointment.ts'

export const IMPORT_FORMATS = ['csv', 'fhir', 'ndjson', 'icalendar'] as const
export type ImportFormat = (typeof IMPORT_FORMATS)[number]

/** A system that gives us the day, and what we learned of it. */
export interface ImportSource {
  clinicId: ClinicId
  id: ImportSourceId
  name: string
  notation: Notation
  /** Column name in the file → our field. Empty for formats that need no mapping. */
  mapping: Record<string, string>
  dateOrder: 'ymd' | 'dmy' | 'mdy' | null
}

/** How the appointments of a file stand against what is known. */
export interface ImportCounts {
  new: number
  changed: number
  cancelled: number
  unchanged: number
  /** Late: the source itself has said something newer before. Not applied. */
  older?: number
  vanished: number
  problems: number
}

/** What a file names in its own words. */
export const NAMED = ['operatory', 'dentist'] as const
export type Named = (typeof NAMED)[number]

/** How a mapping of names is kept beside that of columns: the source's name for an operatory or a person → our id. */
export const nameKey = (kind: Named, name: string): string => `${kind}/${plainName(name)}`

/** The names whose meaning is remembered of a source. */
export const namesOf = ({ mapping }: ImportSource): { kind: Named; name: string; id: string }[] =>
  NAMED.flatMap((kind) =>
    Object.entries(mapping).flatMap(([key, id]) =>
      key.startsWith(`${kind}/`) ? [{ kind, name: key.slice(kind.length + 1), id }] : [],
    ),
  )

/** Two spellings of one name: case, spaces and full stops do not tell them apart. */
export const plainName = (name: string): string =>
  name
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[.\s]+/g, ' ')
    .trim()

/** One import run. */
export interface ImportBatch {
  clinicId: ClinicId
  id: ImportBatchId
  sourceId: ImportSourceId
  format: ImportFormat
  fileName: string
  /** SHA-256 of the file's bytes. */
  fileDigest: string
  days: Day[]
  counts: ImportCounts
  by: MemberId
  at: Instant
}

/** That nobody comes any more for what a source knows by an id, and in which version it says so. */
export interface Ending extends Version {
  recurrenceKey: string
  status: 'cancelled' | 'noshow' | 'entered-in-error'
}

/** A row that could not be taken, with its original text, until a person settles it. */
export interface ImportProblem {
  clinicId: ClinicId
  id: ImportProblemId
  batchId: ImportBatchId
  line: number
  field: string
  text: string
  /** The row as it stood in the file. */
  original: string
  /** What it ends that was not known when it came; null or left out: nothing. A booking that comes later may be older. */
  ends: (Ending & { externalId: string }) | null
  life:
    | { kind: 'open' }
    | { kind: 'settled'; at: Instant; by: MemberId; appointmentId: AppointmentId | null; note: string }
}

/** A calendar that is fetched from an address by itself, in the name of whoever set it. */
export interface CalendarAddress {
  clinicId: ClinicId
  id: CalendarAddressId
  sourceId: ImportSourceId
  address: string
  /** Further hosts that the address may lead on to. Its own is among those allowed. */
  hosts: string[]
  everyMinutes: Minutes
  by: MemberId
  at: Instant
}

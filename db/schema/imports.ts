import {
  bigint,
  customType,
  index,
  integer,
  pgTable,
  primaryKey,
  text,
  uniqueIndex,
} from 'drizzle-orm/pg-core'
import type { Day, Instant } from '#shared/base/moment.ts'
import type {
  AppointmentId,
  CalendarAddressId,
  ClinicId,
  ImportBatchId,
  ImportProblemId,
  ImportSourceId,
  MemberId,
  OwnWordId,
} from '#shared/ids.ts'
import { PROCEDURE_KINDS } from '#shared/procedures/work.ts'
import { IMPORT_FORMATS, type ImportCounts, type ImportProblem } from '#shared/schedule/import-batch.ts'
import { NOTATIONS } from '#shared/teeth/notation-names.ts'
import { factKey, id, instantMs, json, keys, kinds, livesAs, oneOf, pointsAt } from '../columns.ts'
import { member } from './clinic.ts'

const DATE_ORDERS = ['ymd', 'dmy', 'mdy'] as const
export const importSource = pgTable(
  'import_source',
  {
    ...keys<ImportSourceId>(),
    name: text().notNull(),
    notation: text({ enum: NOTATIONS }).notNull(),
    mapping: json<Record<string, string>>().notNull(),
    dateOrder: text({ enum: DATE_ORDERS }),
  },
  (table) => [
    factKey(table),
    oneOf('import_source_notation', table.notation, NOTATIONS),
    oneOf('import_source_date_order', table.dateOrder, DATE_ORDERS),
  ],
)

export const importBatch = pgTable(
  'import_batch',
  {
    ...keys<ImportBatchId>(),
    sourceId: id<ImportSourceId>().notNull(),
    format: text({ enum: IMPORT_FORMATS }).notNull(),
    fileName: text().notNull(),
    fileDigest: text().notNull(),
    days: json<Day[]>().notNull(),
    counts: json<ImportCounts>().notNull(),
    by: id<MemberId>().notNull(),
    at: instantMs().notNull(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.sourceId, () => importSource),
    pointsAt(table, table.by, () => member),
    oneOf('import_batch_format', table.format, IMPORT_FORMATS),
    index('import_batch_source').on(table.clinicId, table.sourceId, table.at),
  ],
)

export const importProblem = pgTable(
  'import_problem',
  {
    ...keys<ImportProblemId>(),
    batchId: id<ImportBatchId>().notNull(),
    line: integer().notNull(),
    field: text().notNull(),
    text: text().notNull(),
    original: text().notNull(),
    ends: json<NonNullable<ImportProblem['ends']>>(),
    life: json<ImportProblem['life']>().notNull(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.batchId, () => importBatch),
    livesAs('import_problem_life', table.life, kinds<ImportProblem['life']>()('open', 'settled')),
    index('import_problem_batch').on(table.clinicId, table.batchId),
  ],
)

export const ownWord = pgTable(
  'own_word',
  {
    ...keys<OwnWordId>(),
    words: text().notNull(),
    kind: text({ enum: PROCEDURE_KINDS }).notNull(),
    by: id<MemberId>().notNull(),
    at: instantMs().notNull(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.by, () => member),
    oneOf('own_word_kind', table.kind, PROCEDURE_KINDS),
    uniqueIndex('own_word_words').on(table.clinicId, table.words),
  ],
)

export const calendarAddress = pgTable(
  'calendar_address',
  {
    ...keys<CalendarAddressId>(),
    sourceId: id<ImportSourceId>().notNull(),
    address: text().notNull(),
    hosts: json<string[]>().notNull(),
    everyMinutes: integer().notNull(),
    by: id<MemberId>().notNull(),
    at: instantMs().notNull(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.sourceId, () => importSource),
    pointsAt(table, table.by, () => member),
    uniqueIndex('calendar_address_source').on(table.clinicId, table.sourceId),
  ],
)

const bytes = customType<{ data: Buffer }>({ dataType: () => 'bytea' })

/** The files of the runs as they came, compressed, once each. Outside the journal: a batch names its file's digest. */
export const importOriginal = pgTable(
  'import_original',
  {
    clinicId: id<ClinicId>().notNull(),
    /** SHA-256 of the file as it came. */
    digest: text().notNull(),
    /** gzip (RFC 1952). */
    packed: bytes().notNull(),
    /** Bytes before it was compressed. */
    size: integer().notNull(),
    keptAt: bigint({ mode: 'number' }).$type<Instant>().notNull(),
  },
  (table) => [primaryKey({ columns: [table.clinicId, table.digest] })],
)

/** How the last round to a calendar's address went. Outside the journal: it changes nothing of the day. */
export const calendarRound = pgTable(
  'calendar_round',
  {
    clinicId: id<ClinicId>().notNull(),
    calendarId: id<CalendarAddressId>().notNull(),
    /** Wall clock. */
    at: bigint({ mode: 'number' }).$type<Instant>().notNull(),
    /** Null where it went well. */
    failure: text(),
    /** SHA-256 of the calendar when it was last taken or found to say nothing new. */
    digest: text(),
    /** Appointments that the last round did not list any more: a second such round makes each an ask. */
    missing: json<AppointmentId[]>().notNull(),
  },
  (table) => [primaryKey({ columns: [table.clinicId, table.calendarId] })],
)

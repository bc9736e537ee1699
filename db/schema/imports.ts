import { index, integer, pgTable, text } from 'drizzle-orm/pg-core'
import type { Day } from '#shared/base/moment.ts'
import type { ImportBatchId, ImportProblemId, ImportSourceId, MemberId } from '#shared/ids.ts'
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
    life: json<ImportProblem['life']>().notNull(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.batchId, () => importBatch),
    livesAs('import_problem_life', table.life, kinds<ImportProblem['life']>()('open', 'settled')),
    index('import_problem_batch').on(table.clinicId, table.batchId),
  ],
)

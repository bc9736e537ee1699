import { randomUUID } from 'node:crypto'
import { z } from 'zod'
import { dayOf, instant, type Zone } from '#shared/base/moment.ts'
import type { CommandId, MemberId } from '#shared/ids.ts'
import type { ImportCounts } from '#shared/schedule/import-batch.ts'
import type { IncomingProblem } from '#shared/schedule/incoming.ts'
import { canonicalZone } from '#shared/schedule/local-time.ts'
import { NOTATIONS, type Notation } from '#shared/teeth/notation-names.ts'
import { badUsage, type VerbAnswer } from './answer.ts'

const columns = z.record(z.string(), z.string())
/** A mapping file: columns alone, or with what else is to be known of the source. */
const mappingFile = z.union([
  z.strictObject({
    columns: columns.default({}),
    dateOrder: z.enum(['ymd', 'dmy', 'mdy']).nullable().optional(),
    notation: z.enum(NOTATIONS).optional(),
    zone: z.string().optional(),
  }),
  columns.transform((only) => ({ columns: only, dateOrder: null, notation: undefined, zone: undefined })),
])
const request = z.object({
  file: z.object({ name: z.string(), base64: z.string() }),
  source: z.string().min(1).optional(),
  mapping: z.unknown().optional(),
})

/** What an import on the command line asks for. */
export interface ImportRequest {
  fileName: string
  bytes: Uint8Array
  source: string
  mapping: Record<string, string>
  dateOrder: 'ymd' | 'dmy' | 'mdy' | null
  notation: Notation | null
  zone: Zone | null
}

/** The request as read, or a refusal in three parts. */
export function parseImportRequest(asked: unknown): ImportRequest | VerbAnswer {
  const parsed = request.safeParse(asked)
  if (!parsed.success)
    return badUsage('No file was given, so nothing was read. Name one: weirboard import FILE [--preview].')
  const mapping = mappingFile.safeParse(parsed.data.mapping ?? {})
  if (!mapping.success)
    return badUsage(
      'The mapping file is not a JSON object of column names and fields, so nothing was read. Write for instance {"columns": {"Date": "day"}}.',
    )
  const zone = mapping.data.zone === undefined ? null : canonicalZone(mapping.data.zone)
  if (mapping.data.zone !== undefined && zone === null)
    return badUsage(
      `"${mapping.data.zone}" is no time zone, so no time could be read. Use an IANA name such as Europe/Dublin.`,
    )
  return {
    fileName: parsed.data.file.name,
    bytes: Buffer.from(parsed.data.file.base64, 'base64'),
    source: parsed.data.source ?? 'command line',
    mapping: mapping.data.columns,
    dateOrder: mapping.data.dateOrder ?? null,
    notation: mapping.data.notation ?? null,
    zone,
  }
}

export const isRefusal = (value: ImportRequest | VerbAnswer): value is VerbAnswer => 'exit' in value

type Told = Pick<IncomingProblem, 'line' | 'field' | 'text' | 'original'>

/** What `import` prints: counts, and every row that could not be taken. Keys may be added, never renamed. */
export const importAnswer = (counts: ImportCounts, problems: readonly Told[]): VerbAnswer => ({
  body: {
    new: counts.new,
    changed: counts.changed,
    cancelled: counts.cancelled,
    unchanged: counts.unchanged,
    older: counts.older ?? 0,
    vanished: counts.vanished,
    problems: problems.map(({ line, field, text, original }) => ({ line, field, text, original })),
  },
  exit: counts.problems > 0 && nothingTaken(counts) ? 1 : 0,
})
const nothingTaken = (counts: ImportCounts): boolean =>
  counts.new +
    counts.changed +
    counts.cancelled +
    counts.unchanged +
    counts.vanished +
    (counts.older ?? 0) ===
  0

/** `import --preview` without a database: compared with an empty clinic, whose clock is UTC unless the mapping says. */
export async function previewAlone(asked: unknown): Promise<VerbAnswer> {
  const read = parseImportRequest(asked)
  if (isRefusal(read)) return read
  // Only here: the verbs that need no file start without it.
  const { openRun } = await import('../imports/open-run.ts')
  const { fileName, bytes, source, mapping, dateOrder } = read
  const notation = read.notation ?? 'ask'
  const options = { source, zone: read.zone ?? ('UTC' as Zone), notation, mapping, dateOrder }
  const run = await openRun({
    bytes,
    fileName,
    options,
    source: { id: null, name: source, notation, mapping, dateOrder },
    command: NOBODYS,
  })
  try {
    const now = instant(Date.now())
    const preview = await run.preview({}, { ...options, fileName, now, today: dayOf(now, options.zone) })
    const answer = importAnswer(preview.counts, preview.problems)
    return {
      ...answer,
      body: { ...answer.body, rows: preview.rows, assumed: preview.assumed, covers: preview.covers },
    }
  } finally {
    run.close()
  }
}

/** What is only looked at is decided in nobody's name. */
const NOBODYS = {
  id: randomUUID() as CommandId,
  kind: 'appointments.import',
  sawRevision: 0,
  madeAt: instant(0),
  by: randomUUID() as MemberId,
  station: '',
} as const

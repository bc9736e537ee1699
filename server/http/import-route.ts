import type { ServerResponse } from 'node:http'
import { z } from 'zod'
import type { Zone } from '#shared/base/moment.ts'
import { type ImportBatchId, parseId } from '#shared/ids.ts'
import { day } from '#shared/inputs.ts'
import { can } from '#shared/people/role.ts'
import { NOTATIONS } from '#shared/teeth/notation-names.ts'
import { say } from '#shared/words/en.ts'
import type { Performed } from '../commands/performed.ts'
import { LARGEST_NDJSON_BYTES } from '../imports/incoming.ts'
import { Stopped } from '../imports/open-run.ts'
import { readOriginal } from '../imports/originals.ts'
import { type Brought, previewBrought, type RunProgress, takeBrought } from '../imports/take.ts'
import { noteReading } from '../trpc/note-reading.ts'
import type { Answer } from './answer.ts'
import {
  NOT_SIGNED_IN,
  parseJson,
  readBody,
  replyJson,
  replyTrouble,
  type Trouble,
  tooLarge,
} from './reply.ts'

const MEGABYTE = 1024 * 1024

const NOT_ALLOWED: Trouble = {
  what: 'Your role does not bring in the day.',
  why: 'Whoever brings a file answers for what it changes.',
  todo: 'Ask the front desk or the manager to bring it in.',
}
const NOT_TOLD: Trouble = {
  what: 'The file came without what must be known of it.',
  why: 'Without its name and source it could not be told from another.',
  todo: 'Load the page again, choose the file once more, and name where it comes from.',
}

const Told = z.object({
  mode: z.enum(['preview', 'take']),
  name: z.string().min(1).max(200),
  progress: z
    .string()
    .default('')
    .transform((text) => text !== ''),
  source: z.string().trim().min(1).max(120),
  notation: z.enum(NOTATIONS).nullable().default(null),
  dateOrder: z.enum(['ymd', 'dmy', 'mdy']).nullable().default(null),
  mapping: z
    .string()
    .default('{}')
    .transform((text, context) => {
      const parsed = z.record(z.string(), z.string()).safeParse(parseJson(Buffer.from(text)))
      if (parsed.success) return parsed.data
      context.addIssue('not a record of texts')
      return z.NEVER
    }),
  wholeOf: z
    .union([
      z.literal('part').transform(() => null),
      z
        .string()
        .transform((text) => text.split('..'))
        .pipe(z.tuple([day, day]))
        .transform(([first, last]) => ({ first, last })),
    ])
    .optional(),
})

/**
 * A day's file as the request's body, what is said of it in the address: `mode` (preview or take), `name`, `source`,
 * and where wanted `notation`, `dateOrder`, `mapping` (JSON), `wholeOf` (`part`, or the days it is the whole list of:
 * `YYYY-MM-DD..YYYY-MM-DD`). With `progress` a taking is answered line by line, JSON
 * each: where it stands, and at the end what came of it. Stops when the person goes away.
 */
export const answerImport: Answer = async (house, request, response) => {
  if (request.method !== 'POST') return replyTrouble(response, 405, NOT_TOLD)
  const session = await house.readSession(request.headers.cookie)
  if (!session) return replyTrouble(response, 401, NOT_SIGNED_IN)
  if (!can(session.roles, 'day:import')) return replyTrouble(response, 403, NOT_ALLOWED)
  const told = Told.safeParse(Object.fromEntries(new URL(request.url ?? '', 'http://here').searchParams))
  if (!told.success) return replyTrouble(response, 400, NOT_TOLD)
  // Only what it holds tells what it is: the smaller limit of other formats is the reader's.
  const bytes = await readBody(request, LARGEST_NDJSON_BYTES)
  if (bytes === null) return replyTrouble(response, 413, tooLarge(LARGEST_NDJSON_BYTES / MEGABYTE))
  const { mode, name, progress, wholeOf, ...rest } = told.data
  const brought: Brought = {
    ...rest,
    ...(wholeOf === undefined ? {} : { wholeOf }),
    bytes,
    fileName: name,
    zone: null as Zone | null,
  }
  const gone = new AbortController()
  response.once('close', () => gone.abort())
  try {
    if (mode === 'preview') {
      const preview = await previewBrought(house, session, brought, gone.signal)
      return replyJson(response, 200, { refused: false, preview })
    }
    const reply = progress ? replyInLines(response) : replyAtOnce(response)
    const performed = await takeBrought(house, session, brought, { signal: gone.signal, tell: reply.tell })
    reply.end(performed)
  } catch (error) {
    // Whoever stopped it waits for no answer.
    if (!(error instanceof Stopped)) throw error
    response.destroy()
  }
}

interface Reply {
  tell: (progress: RunProgress) => void
  end: (performed: Performed) => void
}

const replyAtOnce = (response: ServerResponse): Reply => ({
  tell: () => {},
  end: (performed) => {
    const { status, body } = outcomeOf(performed)
    replyJson(response, status, body)
  },
})

/** The status is sent before the outcome is known, so the last line says that too. */
function replyInLines(response: ServerResponse): Reply {
  response.writeHead(200, {
    'content-type': 'application/x-ndjson; charset=utf-8',
    'cache-control': 'no-store',
    'x-accel-buffering': 'no',
  })
  return {
    tell: (progress) => void response.write(`${JSON.stringify(progress)}\n`),
    end: (performed) => {
      response.end(`${JSON.stringify({ step: 'done', ...outcomeOf(performed) })}\n`)
    },
  }
}

function outcomeOf(performed: Performed): { status: number; body: object } {
  if (!performed.refused) {
    const [batch] = performed.change.put.importBatch ?? []
    const body = { refused: false, revision: performed.revision, counts: batch?.counts ?? null }
    return { status: 200, body }
  }
  const error = performed.trouble ?? {
    what: performed.findings.map(say).join(' '),
    why: 'Nothing of the file was taken.',
    todo: 'Mend the file or choose another, and look at the preview first.',
  }
  return { status: 422, body: { refused: true, error } }
}

const NO_ORIGINAL: Trouble = {
  what: 'There is no such file here.',
  why: 'Only files that were read in are kept, each as it came.',
  todo: 'Choose one from the list of runs.',
}

/** `?batch=ID`: the file of a run, byte for byte as it came. */
export const answerOriginal: Answer = async (house, request, response) => {
  const session = await house.readSession(request.headers.cookie)
  if (!session) return replyTrouble(response, 401, NOT_SIGNED_IN)
  if (!can(session.roles, 'day:import')) return replyTrouble(response, 403, NOT_ALLOWED)
  const { searchParams } = new URL(request.url ?? '', 'http://here')
  const batchId = parseId<ImportBatchId>(searchParams.get('batch') ?? '')
  const kept = batchId && (await readOriginal(house, session.clinicId, batchId))
  if (!kept) return replyTrouble(response, 404, NO_ORIGINAL)
  await noteReading(house, session, { page: `import original ${batchId}`, appointmentId: null })
  response.writeHead(200, {
    'content-type': 'application/octet-stream',
    'content-disposition': `attachment; filename*=UTF-8''${encodeName(kept.name)}`,
    'cache-control': 'no-store',
  })
  response.end(kept.bytes)
}

/** RFC 8187: whatever is no plain letter of a name is written as its octets. */
const encodeName = (name: string): string =>
  encodeURIComponent(name).replace(/['()*!]/g, (sign) => `%${sign.charCodeAt(0).toString(16).toUpperCase()}`)

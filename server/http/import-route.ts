import { z } from 'zod'
import type { Zone } from '#shared/base/moment.ts'
import { can } from '#shared/people/role.ts'
import { NOTATIONS } from '#shared/teeth/notation-names.ts'
import { say } from '#shared/words/en.ts'
import { LARGEST_FILE_BYTES } from '../imports/incoming.ts'
import { type Brought, previewBrought, takeBrought } from '../imports/take.ts'
import {
  NOT_SIGNED_IN,
  parseJson,
  readBody,
  replyJson,
  replyTrouble,
  type Trouble,
  tooLarge,
} from './reply.ts'
import type { Answer } from './routes.ts'

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
})

/**
 * A day's file as the request's body, what is said of it in the address: `mode` (preview or take), `name`, `source`,
 * and where wanted `notation`, `dateOrder`, `mapping` (JSON). Stops when the person goes away.
 */
export const answerImport: Answer = async (house, request, response) => {
  if (request.method !== 'POST') return replyTrouble(response, 405, NOT_TOLD)
  const session = await house.readSession(request.headers.cookie)
  if (!session) return replyTrouble(response, 401, NOT_SIGNED_IN)
  if (!can(session.roles, 'day:import')) return replyTrouble(response, 403, NOT_ALLOWED)
  const told = Told.safeParse(Object.fromEntries(new URL(request.url ?? '', 'http://here').searchParams))
  if (!told.success) return replyTrouble(response, 400, NOT_TOLD)
  const bytes = await readBody(request, LARGEST_FILE_BYTES)
  if (bytes === null) return replyTrouble(response, 413, tooLarge(LARGEST_FILE_BYTES / MEGABYTE))
  const { mode, name, ...rest } = told.data
  const brought: Brought = { ...rest, bytes, fileName: name, zone: null as Zone | null }
  const gone = new AbortController()
  response.once('close', () => gone.abort())
  if (mode === 'preview') {
    const preview = await previewBrought(house, session.clinicId, brought, gone.signal)
    return replyJson(response, 200, { refused: false, preview })
  }
  const performed = await takeBrought(house, session, brought, gone.signal)
  if (!performed.refused) {
    const [batch] = performed.change.put.importBatch ?? []
    return replyJson(response, 200, {
      refused: false,
      revision: performed.revision,
      counts: batch?.counts ?? null,
    })
  }
  replyTrouble(
    response,
    422,
    performed.trouble ?? {
      what: performed.findings.map(say).join(' '),
      why: 'Nothing of the file was taken.',
      todo: 'Mend the file or choose another, and look at the preview first.',
    },
  )
}

import { randomUUID } from 'node:crypto'
import type { IncomingMessage } from 'node:http'
import { z } from 'zod'
import { instant } from '#shared/base/moment.ts'
import type { CommandId } from '#shared/ids.ts'
import { say } from '#shared/words/en.ts'
import type { Performed } from '../commands/performed.ts'
import type { House } from '../house.ts'
import type { Session } from '../sign-in/session.ts'
import { parseJson, readBody, type Trouble } from './reply.ts'

const BODY_LIMIT = 16_384

/** By which a person takes over a shared station. */
export const digits = z.string().regex(/^\d{4,8}$/)

/** A small form as it was sent; null where it is not whole. */
export async function readForm<Form>(request: IncomingMessage, form: z.ZodType<Form>): Promise<Form | null> {
  const body = await readBody(request, BODY_LIMIT)
  return (body && form.safeParse(parseJson(body)).data) ?? null
}

/** A command in the name of whoever sent a form. */
export const askAs = (house: House, session: Session, kind: string, input: unknown): Promise<Performed> =>
  house.perform({
    clinicId: session.clinicId,
    command: {
      id: randomUUID() as CommandId,
      kind,
      input,
      sawRevision: 0,
      madeAt: instant(house.wall()),
      by: session.memberId,
      station: session.station,
    },
  })

export const troubleOf = (performed: Performed): Trouble => ({
  what: performed.findings.map(say).join(' ') || 'This was not done.',
  why: 'Nothing was changed.',
  todo: 'Correct the form and send it again.',
})

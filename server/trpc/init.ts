import { initTRPC, TRPCError } from '@trpc/server'
import { can } from '#shared/people/role.ts'
import type { House } from '../house.ts'
import { NOT_SIGNED_IN, type Trouble } from '../http/reply.ts'
import type { Session } from '../sign-in/session.ts'

export interface Context {
  house: House
  session: Session | null
}

/** An error that says what, why and what to do, whatever it travels through. */
export class TroubleError extends TRPCError {
  readonly trouble: Trouble
  constructor(code: TRPCError['code'], trouble: Trouble) {
    super({ code, message: trouble.what })
    this.trouble = trouble
  }
}

const UNEXPECTED: Trouble = {
  what: 'The server could not answer this.',
  why: 'What was acknowledged before is kept.',
  todo: 'Try once more. If it happens again, tell whoever looks after this server the time it happened.',
}
const UNREADABLE: Trouble = {
  what: 'The server could not read what was asked.',
  why: 'Nothing was changed.',
  todo: 'Reload this screen: it may be older than the server.',
}
const TOO_LARGE: Trouble = {
  what: 'What was sent is too large.',
  why: 'Nothing of it was read.',
  todo: 'Send a day’s list by the import, everything else in smaller steps.',
}
const OF_CODE: Partial<Record<TRPCError['code'], Trouble>> = {
  BAD_REQUEST: UNREADABLE,
  PARSE_ERROR: UNREADABLE,
  NOT_FOUND: UNREADABLE,
  METHOD_NOT_SUPPORTED: UNREADABLE,
  UNSUPPORTED_MEDIA_TYPE: UNREADABLE,
  PAYLOAD_TOO_LARGE: TOO_LARGE,
}

const t = initTRPC.context<Context>().create({
  errorFormatter: ({ shape, error }) => ({
    message: error instanceof TroubleError ? error.message : (OF_CODE[error.code] ?? UNEXPECTED).what,
    code: shape.code,
    data: {
      code: shape.data.code,
      httpStatus: shape.data.httpStatus,
      trouble: error instanceof TroubleError ? error.trouble : (OF_CODE[error.code] ?? UNEXPECTED),
    },
  }),
})

export const router = t.router
export const makeCallerOf = t.createCallerFactory
/** Anyone may ask. */
export const open = t.procedure
/** Someone signed in asks. */
export const signedIn = t.procedure.use(({ ctx, next }) => {
  if (!ctx.session) throw new TroubleError('UNAUTHORIZED', NOT_SIGNED_IN)
  return next({ ctx: { ...ctx, session: ctx.session } })
})

const NOT_CLINICAL: Trouble = {
  what: 'This page is for those who treat patients.',
  why: 'It holds clinical facts.',
  todo: 'Ask someone at the chair, or sign in as the person you are.',
}
/** Someone signed in who may hold clinical facts. */
export const clinical = signedIn.use(({ ctx, next }) => {
  if (ctx.session.audience !== 'clinical') throw new TroubleError('FORBIDDEN', NOT_CLINICAL)
  return next()
})

const NOT_IMPORTING: Trouble = {
  what: 'Your role does not bring in the day.',
  why: 'These lists hold what files said of patients.',
  todo: 'Ask the front desk or the manager.',
}

/** Someone who brings in the day: what files said of patients is theirs. */
export const importing = signedIn.use(({ ctx, next }) => {
  if (!can(ctx.session.roles, 'day:import')) throw new TroubleError('FORBIDDEN', NOT_IMPORTING)
  return next()
})

import { eq } from 'drizzle-orm'
import { z } from 'zod'
import { account, membership } from '#db/schema/accounts.ts'
import { INVENTED_PASSWORD } from '#seed/people.ts'
import type { ClinicId } from '#shared/ids.ts'
import { countAttempt, forgetAttempts } from '../sign-in/accounts.ts'
import { endSignIn } from '../sign-in/people.ts'
import { readSignIn, tokenOf } from '../sign-in/read-session.ts'
import type { Answer } from './answer.ts'
import { readForm } from './form.ts'
import { replyJson, replyTrouble, replyWith, type Trouble } from './reply.ts'

const WRONG: Trouble = {
  what: 'This name and password do not go together.',
  why: 'What happens here is kept under a person’s name.',
  todo: 'Try again, or ask the manager to set a new password.',
}
const NO_FORM: Trouble = {
  what: 'The form did not arrive as it was sent.',
  why: 'Nothing can be checked without it.',
  todo: 'Load the page again and try once more.',
}

const SignInForm = z.object({ email: z.string().min(1).max(200), password: z.string().min(1).max(200) })
const OneTapForm = z.object({ memberId: z.uuid() })
const FoundForm = z.object({
  code: z.string().max(40),
  clinicName: z.string().min(1).max(120),
  zone: z.string().min(1).max(60),
  notation: z.enum(['ask', 'iso', 'universal', 'palmer']),
  name: z.string().min(1).max(120),
  email: z.string().min(3).max(200),
  password: z.string().min(10).max(200),
})

/** Name and password; five failures in a row rest the account for some minutes, whatever address they come from. */
export const answerSignIn: Answer = async (house, request, response) => {
  const form = await readForm(request, SignInForm)
  if (!form) return replyTrouble(response, 400, NO_FORM)
  const { email, password } = form
  const minutes = await countAttempt(house.database.db, email)
  if (minutes > 0) {
    return replyTrouble(response, 429, {
      what: 'This account rests after several wrong passwords.',
      why: 'Someone may be guessing.',
      todo: `Wait ${minutes} min and try again.`,
    })
  }
  const answer = await house.accounts.api.signInEmail({ body: { email, password }, asResponse: true })
  if (!answer.ok) return replyTrouble(response, 401, WRONG)
  await forgetAttempts(house.database.db, email)
  await replyWith(response, answer)
}

/** Ends the sign-in, and with it every stream that was opened under it. A station is then nobody's again. */
export const answerSignOut: Answer = async (house, request, response) => {
  const signIn = await readSignIn(house.database, tokenOf(request.headers.cookie))
  const headers = new Headers({ cookie: request.headers.cookie ?? '' })
  const answer = await house.accounts.api.signOut({ headers, asResponse: true })
  if (signIn) {
    await endSignIn(house.database.db, signIn.sessionId)
    house.hub.endSession(signIn.sessionId)
  }
  await replyWith(response, answer)
}

/** In the invented clinic only, one tap signs in as whichever of its people it names. */
export const answerOneTap: Answer = async (house, request, response) => {
  const form = await readForm(request, OneTapForm)
  if (!form) return replyTrouble(response, 400, NO_FORM)
  const [person] = await house.database.db
    .select({ email: account.email, clinicId: membership.clinicId })
    .from(membership)
    .innerJoin(account, eq(account.id, membership.accountId))
    .where(eq(membership.memberId, form.memberId))
  if (!person || !(await house.isInvented(person.clinicId as ClinicId)))
    return replyTrouble(response, 403, WRONG)
  const answer = await house.accounts.api.signInEmail({
    body: { email: person.email, password: INVENTED_PASSWORD },
    asResponse: true,
  })
  return replyWith(response, answer)
}

/** The first manager of a real clinic, by the one-time code that the process printed. */
export const answerFound: Answer = async (house, request, response) => {
  const form = await readForm(request, FoundForm)
  if (!form) return replyTrouble(response, 400, NO_FORM)
  const refused = await house.found(form)
  if (refused) return replyTrouble(response, 403, refused)
  replyJson(response, 200, { refused: false })
}

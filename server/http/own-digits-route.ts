import { eq } from 'drizzle-orm'
import { z } from 'zod'
import { account } from '#db/schema/accounts.ts'
import { countAttempt, forgetAttempts } from '../sign-in/accounts.ts'
import { isPassword } from '../sign-in/people.ts'
import { setPin } from '../sign-in/stations.ts'
import type { Answer } from './answer.ts'
import { digits, readForm } from './form.ts'
import { NOT_SIGNED_IN, replyJson, replyTrouble, type Trouble } from './reply.ts'

const NO_FORM: Trouble = {
  what: 'The form is not complete.',
  why: 'Digits are four to eight, and only your password shows that they are yours.',
  todo: 'Fill in both and send it again.',
}
const WRONG: Trouble = {
  what: 'This is not your password. Your digits stay as they were.',
  why: 'Whoever finds a screen open could else take over every station under your name.',
  todo: 'Try again, or ask the manager for new digits.',
}
const restsFor = (minutes: number): Trouble => ({
  what: 'Your account rests after several wrong passwords.',
  why: 'Someone may be guessing.',
  todo: `Wait ${minutes} min and try again.`,
})

const Form = z.object({ pin: digits, password: z.string().min(1).max(200) })

/** A person changes the digits by which they take over a station, their own and nobody else's, by their password. */
export const answerOwnDigits: Answer = async (house, request, response) => {
  if (request.method !== 'POST') return replyTrouble(response, 405, NO_FORM)
  const session = await house.readSession(request.headers.cookie)
  if (!session) return replyTrouble(response, 401, NOT_SIGNED_IN)
  const form = await readForm(request, Form)
  if (!form) return replyTrouble(response, 400, NO_FORM)
  const { accounts, database } = house
  const { accountId, clinicId, memberId } = session
  const [own] = await database.db
    .select({ email: account.email })
    .from(account)
    .where(eq(account.id, accountId))
  if (!own) return replyTrouble(response, 401, NOT_SIGNED_IN)
  // Counted with the sign-ins by name: one password, one number of guesses.
  const minutes = await countAttempt(database.db, own.email)
  if (minutes > 0) return replyTrouble(response, 429, restsFor(minutes))
  if (!(await isPassword(accounts, database.db, { accountId, password: form.password }))) {
    return replyTrouble(response, 403, WRONG)
  }
  await forgetAttempts(database.db, own.email)
  await setPin(accounts, database.db, { clinicId, memberId, pin: form.pin })
  replyJson(response, 200, { refused: false })
}

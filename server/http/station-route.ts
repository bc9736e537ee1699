import type { ServerResponse } from 'node:http'
import { z } from 'zod'
import type { MemberId } from '#shared/ids.ts'
import { id } from '#shared/inputs.ts'
import { can, isStation, rolesAtStation } from '#shared/people/role.ts'
import type { House } from '../house.ts'
import { addAccount } from '../sign-in/accounts.ts'
import { endSignIn } from '../sign-in/people.ts'
import { readMember } from '../sign-in/read-people.ts'
import { readSignIn, stationTokenOf, tokenOf } from '../sign-in/read-session.ts'
import { checkPin, openSignIn, PERSON_MINUTES, STATION_MINUTES } from '../sign-in/stations.ts'
import type { Answer } from './answer.ts'
import { askAs, digits, readForm, troubleOf } from './form.ts'
import { NOT_ALLOWED } from './people-route.ts'
import { NOT_SIGNED_IN, replyJson, replyTrouble, type Trouble } from './reply.ts'

const NO_FORM: Trouble = {
  what: 'The form is not complete.',
  why: 'A station needs a name; a person is known here by four to eight digits.',
  todo: 'Fill in what is missing and send it again.',
}
const NO_STATION: Trouble = {
  what: 'This device is not a shared station.',
  why: 'A few digits are enough only where the manager has put a device up for it.',
  todo: 'Sign in with your name and password, or ask the manager to make this device a station.',
}
const WRONG_PIN: Trouble = {
  what: 'These are not the digits of this person.',
  why: 'What is done here is kept under a person’s name.',
  todo: 'Try again, or ask the manager for new digits.',
}
const restsFor = (minutes: number): Trouble => ({
  what: 'These digits rest after several wrong tries.',
  why: 'Someone may be guessing.',
  todo: `Wait ${minutes} min, or sign in with your name and password.`,
})

const Form = z.discriminatedUnion('kind', [
  /** The manager makes the device in hand a station; the manager's own sign-in there ends. */
  z.object({ kind: z.literal('register'), name: z.string().trim().min(1).max(40) }),
  /** A person takes the station over by their digits, whoever stood there before. */
  z.object({ kind: z.literal('person'), memberId: id<MemberId>(), pin: digits }),
])
type OfKind<Kind extends z.infer<typeof Form>['kind']> = Extract<z.infer<typeof Form>, { kind: Kind }>

interface Asking {
  house: House
  cookie: string | undefined
  response: ServerResponse
}

/** Shared stations: making a device one, and who stands there now. Leaving is signing out. */
export const answerStation: Answer = async (house, request, response) => {
  if (request.method !== 'POST') return replyTrouble(response, 405, NO_FORM)
  const form = await readForm(request, Form)
  if (!form) return replyTrouble(response, 400, NO_FORM)
  const asking = { house, cookie: request.headers.cookie, response }
  return form.kind === 'register' ? register(asking, form) : takeOver(asking, form)
}

async function register({ house, cookie, response }: Asking, { name }: OfKind<'register'>): Promise<void> {
  const session = await house.readSession(cookie)
  if (!session) return replyTrouble(response, 401, NOT_SIGNED_IN)
  if (!can(session.roles, 'clinic:set')) return replyTrouble(response, 403, NOT_ALLOWED)
  const added = await askAs(house, session, 'person.add', { name, shortName: name, roles: ['station'] })
  const station = added.refused ? undefined : added.change.put.member?.[0]
  if (added.refused || !station) return replyTrouble(response, 422, troubleOf(added))
  const { db } = house.database
  const { clinicId, id: stationId } = station
  const accountId = await addAccount(house.accounts, db, {
    name,
    email: `${stationId}@station.invalid`,
    password: null,
    clinicId,
    memberId: stationId,
  })
  const token = await openSignIn(db, { accountId, stationId, minutes: STATION_MINUTES })
  await endSignIn(db, session.sessionId)
  house.hub.endSession(session.sessionId)
  const isSecure = isServedSecurely(house)
  response.setHeader('set-cookie', [
    cookieOf('weirboard.station_token', { token, minutes: STATION_MINUTES, isSecure }),
    cookieOf(personCookie(isSecure), { token: '', minutes: 0, isSecure }),
  ])
  replyJson(response, 200, { refused: false })
}

async function takeOver({ house, cookie, response }: Asking, form: OfKind<'person'>): Promise<void> {
  const { database, accounts } = house
  const { db } = database
  const signIn = await readSignIn(database, stationTokenOf(cookie))
  const station = signIn && (await readMember(database, signIn.clinicId, signIn.memberId))
  if (!signIn || !station?.active || !isStation(station.roles)) {
    return replyTrouble(response, 403, NO_STATION)
  }
  const { clinicId, memberId: stationId } = signIn
  const member = await readMember(database, clinicId, form.memberId)
  if (!member?.active || rolesAtStation(member.roles).length === 0 || isStation(member.roles)) {
    return replyTrouble(response, 403, WRONG_PIN)
  }
  const answer = await checkPin(accounts, db, { clinicId, memberId: member.id, pin: form.pin })
  if (answer.kind === 'rests') return replyTrouble(response, 429, restsFor(answer.minutes))
  if (answer.kind === 'wrong') return replyTrouble(response, 403, WRONG_PIN)
  await endWhoStood(house, cookie)
  const token = await openSignIn(db, { accountId: answer.accountId, stationId, minutes: PERSON_MINUTES })
  const isSecure = isServedSecurely(house)
  const minutes = PERSON_MINUTES
  response.setHeader('set-cookie', cookieOf(personCookie(isSecure), { token, minutes, isSecure }))
  replyJson(response, 200, { refused: false })
}

/** Nobody works on under the name of who stood there before. */
async function endWhoStood(house: House, cookie: string | undefined): Promise<void> {
  const before = await readSignIn(house.database, tokenOf(cookie))
  if (!before) return
  await endSignIn(house.database.db, before.sessionId)
  house.hub.endSession(before.sessionId)
}

const isServedSecurely = ({ environment }: House): boolean =>
  environment.PUBLIC_ADDRESS?.startsWith('https:') ?? false

/** The library's own name for it, so that signing in and out by password and by digits are one thing. */
const personCookie = (isSecure: boolean): string => `${isSecure ? '__Secure-' : ''}weirboard.session_token`

const cookieOf = (
  name: string,
  { token, minutes, isSecure }: { token: string; minutes: number; isSecure: boolean },
): string =>
  `${name}=${token}; Path=/; Max-Age=${minutes * 60}; HttpOnly; SameSite=Lax${isSecure ? '; Secure' : ''}`

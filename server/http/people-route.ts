import { z } from 'zod'
import type { MemberId } from '#shared/ids.ts'
import { id } from '#shared/inputs.ts'
import { can, PERSON_ROLES } from '#shared/people/role.ts'
import type { House } from '../house.ts'
import { addAccount } from '../sign-in/accounts.ts'
import { endSignIns, findAccountId, isEmailTaken, setPassword } from '../sign-in/people.ts'
import { readMember } from '../sign-in/read-people.ts'
import type { Session } from '../sign-in/session.ts'
import { setPin } from '../sign-in/stations.ts'
import type { Answer } from './answer.ts'
import { askAs, digits, readForm, troubleOf } from './form.ts'
import { NOT_SIGNED_IN, replyJson, replyTrouble, type Trouble } from './reply.ts'

export const NOT_ALLOWED: Trouble = {
  what: 'Your role does not name people.',
  why: 'Whoever may sign in may act in this clinic.',
  todo: 'Ask the manager.',
}
const NO_FORM: Trouble = {
  what: 'The form is not complete.',
  why: 'A person needs a name, at least one role, and a password of ten characters or more to sign in.',
  todo: 'Fill in what is missing and send it again.',
}
const TAKEN: Trouble = {
  what: 'Someone signs in under this e-mail already.',
  why: 'Two people under one name could not be told apart in what they did.',
  todo: 'Give another e-mail. Nothing is ever sent to it.',
}
const UNKNOWN: Trouble = {
  what: 'This person is not known here.',
  why: 'Only someone who works in this clinic can be given a sign-in.',
  todo: 'Load the page again and choose them from the list.',
}
const HAS_ONE: Trouble = {
  what: 'This person has a sign-in already.',
  why: 'A second one would hide who did what.',
  todo: 'Give them a new password instead.',
}
const HAS_NONE: Trouble = {
  what: 'This person has no sign-in yet.',
  why: 'There is no password to change.',
  todo: 'Give them a sign-in first.',
}

const name = z.string().trim().min(1).max(120)
const email = z.string().trim().min(3).max(200)
const password = z.string().min(10).max(200)

const Form = z.discriminatedUnion('kind', [
  /** Someone new, with a sign-in. */
  z.object({
    kind: z.literal('add'),
    name,
    shortName: name,
    roles: z.array(z.enum(PERSON_ROLES)).min(1),
    releasesLoads: z.boolean(),
    email,
    password,
  }),
  /** A sign-in for someone who has none. */
  z.object({ kind: z.literal('sign-in'), memberId: id<MemberId>(), email, password }),
  z.object({ kind: z.literal('password'), memberId: id<MemberId>(), password }),
  /** Digits by which they take over a shared station. */
  z.object({ kind: z.literal('pin'), memberId: id<MemberId>(), pin: digits }),
  /** Works here no longer: every sign-in ends at once. */
  z.object({ kind: z.literal('deactivate'), memberId: id<MemberId>() }),
])
type Form = z.infer<typeof Form>

/** People and their sign-ins, by the manager. Who someone is is a fact of the clinic; how they sign in is not. */
export const answerPeople: Answer = async (house, request, response) => {
  if (request.method !== 'POST') return replyTrouble(response, 405, NO_FORM)
  const session = await house.readSession(request.headers.cookie)
  if (!session) return replyTrouble(response, 401, NOT_SIGNED_IN)
  if (!can(session.roles, 'clinic:set')) return replyTrouble(response, 403, NOT_ALLOWED)
  const form = await readForm(request, Form)
  if (!form) return replyTrouble(response, 400, NO_FORM)
  const trouble = await carryOut(house, session, form)
  if (trouble) return replyTrouble(response, 422, trouble)
  replyJson(response, 200, { refused: false })
}

function carryOut(house: House, session: Session, form: Form): Promise<Trouble | null> {
  switch (form.kind) {
    case 'add':
      return addWithSignIn(house, session, form)
    case 'sign-in':
      return giveSignIn(house, session, form)
    case 'password':
      return changePassword(house, session, form)
    case 'pin':
      return changePin(house, session, form)
    case 'deactivate':
      return deactivate(house, session, form.memberId)
  }
}

type OfKind<Kind extends Form['kind']> = Extract<Form, { kind: Kind }>

async function addWithSignIn(house: House, session: Session, form: OfKind<'add'>): Promise<Trouble | null> {
  if (await isEmailTaken(house.database.db, form.email)) return TAKEN
  const { kind: _, email, password, ...person } = form
  const performed = await askAs(house, session, 'person.add', person)
  const added = performed.refused ? undefined : performed.change.put.member?.[0]
  if (performed.refused || !added) return troubleOf(performed)
  const { clinicId } = session
  await addAccount(house.accounts, house.database.db, {
    name: form.name,
    email,
    password,
    clinicId,
    memberId: added.id,
  })
  return null
}

async function giveSignIn(house: House, session: Session, form: OfKind<'sign-in'>): Promise<Trouble | null> {
  const { db } = house.database
  const who = { clinicId: session.clinicId, memberId: form.memberId }
  const member = await readMember(house.database, who.clinicId, who.memberId)
  if (!member?.active) return UNKNOWN
  if (await findAccountId(db, who)) return HAS_ONE
  if (await isEmailTaken(db, form.email)) return TAKEN
  const { email, password } = form
  await addAccount(house.accounts, db, { name: member.name, email, password, ...who })
  return null
}

async function changePassword(
  house: House,
  session: Session,
  { memberId, password }: OfKind<'password'>,
): Promise<Trouble | null> {
  const accountId = await findAccountId(house.database.db, { clinicId: session.clinicId, memberId })
  if (accountId === null) return HAS_NONE
  await setPassword(house.accounts, accountId, password)
  if (memberId !== session.memberId) await endAll(house, accountId)
  return null
}

async function changePin(
  house: House,
  { clinicId }: Session,
  { memberId, pin }: OfKind<'pin'>,
): Promise<Trouble | null> {
  const { db } = house.database
  if (!(await findAccountId(db, { clinicId, memberId }))) return HAS_NONE
  await setPin(house.accounts, db, { clinicId, memberId, pin })
  return null
}

async function deactivate(house: House, session: Session, memberId: MemberId): Promise<Trouble | null> {
  const performed = await askAs(house, session, 'person.deactivate', { memberId })
  if (performed.refused) return troubleOf(performed)
  const accountId = await findAccountId(house.database.db, { clinicId: session.clinicId, memberId })
  if (accountId !== null) await endAll(house, accountId)
  return null
}

async function endAll(house: House, accountId: string): Promise<void> {
  for (const sessionId of await endSignIns(house.database.db, accountId)) house.hub.endSession(sessionId)
}

import { createServer, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { answerPeople } from '#server/http/people-route.ts'
import { answerSignIn } from '#server/http/sign-in-routes.ts'
import { addPerson } from '#tests/support/clinic.ts'
import { openTestHouse, type TestHouse } from '#tests/support/house.ts'

const PASSWORD = 'ten characters at least'
const NEW = {
  kind: 'add',
  name: 'Ada Newcomer',
  shortName: 'A. Newcomer',
  roles: ['assistant'],
  releasesLoads: false,
  email: 'Ada@weirboard.invalid',
  password: PASSWORD,
}

describe('people and their sign-ins', () => {
  let t: TestHouse
  let server: Server
  let address: string
  let manager: string
  beforeAll(async () => {
    t = await openTestHouse('pglite')
    server = createServer((request, response) => {
      const answer = request.url === '/sign-in' ? answerSignIn : answerPeople
      Promise.resolve(answer(t.house, request, response)).catch(() => response.destroy())
    })
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
    address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
    manager = await t.signIn(t.clinic.manager)
  }, 120_000)
  afterAll(async () => {
    await new Promise((resolve) => server.close(resolve))
    await t.close()
  })

  const post = (path: string, body: unknown, cookie = ''): Promise<Response> =>
    fetch(`${address}${path}`, {
      method: 'POST',
      headers: { cookie, 'content-type': 'application/json' },
      body: JSON.stringify(body),
    })
  const signIn = (email: string, password: string) => post('/sign-in', { email, password })
  const cookieOf = (answer: Response): string =>
    answer.headers
      .getSetCookie()
      .map((cookie) => cookie.split(';')[0])
      .join('; ')
  const memberNamed = async (name: string) =>
    (await t.clinic.world()).member.find((each) => each.name === name)

  it('adds someone who can sign in, and ends their sign-ins the moment they no longer work here', async () => {
    expect((await post('/people', NEW, manager)).status).toBe(200)
    const signedIn = await signIn('ada@weirboard.invalid', PASSWORD)
    expect(signedIn.status).toBe(200)
    const cookie = cookieOf(signedIn)
    const ada = await memberNamed('Ada Newcomer')
    expect(await t.house.readSession(cookie)).toMatchObject({ memberId: ada?.id, roles: ['assistant'] })
    expect((await post('/people', { kind: 'deactivate', memberId: ada?.id }, manager)).status).toBe(200)
    expect(await t.house.readSession(cookie)).toBeNull()
    expect((await memberNamed('Ada Newcomer'))?.active).toBe(false)
  })

  it('a new password replaces the old one and ends what was opened with it', async () => {
    await post('/people', { ...NEW, name: 'Bo Second', email: 'bo@weirboard.invalid' }, manager)
    const cookie = cookieOf(await signIn('bo@weirboard.invalid', PASSWORD))
    const bo = await memberNamed('Bo Second')
    const change = { kind: 'password', memberId: bo?.id, password: 'another long enough' }
    expect((await post('/people', change, manager)).status).toBe(200)
    expect(await t.house.readSession(cookie)).toBeNull()
    expect((await signIn('bo@weirboard.invalid', PASSWORD)).status).toBe(401)
    expect((await signIn('bo@weirboard.invalid', 'another long enough')).status).toBe(200)
  })

  it('refuses a taken e-mail before anyone is added, a second sign-in, and one for nobody', async () => {
    const before = (await t.clinic.world()).member.length
    const taken = await post('/people', { ...NEW, name: 'Cy Third', email: 'BO@weirboard.invalid' }, manager)
    expect(taken.status).toBe(422)
    expect(await taken.json()).toMatchObject({ error: { what: expect.stringContaining('already') } })
    expect((await t.clinic.world()).member).toHaveLength(before)
    const bo = await memberNamed('Bo Second')
    const twice = { kind: 'sign-in', memberId: bo?.id, email: 'bo2@weirboard.invalid', password: PASSWORD }
    expect((await post('/people', twice, manager)).status).toBe(422)
    const nobody = { ...twice, memberId: '00000000-0000-4000-8000-000000000999' }
    expect((await post('/people', nobody, manager)).status).toBe(422)
  })

  it('is the manager’s alone, and the last manager stays', async () => {
    const desk = await t.signIn(await addPerson(t.clinic, 'Dora Desk', 'front-desk'))
    expect((await post('/people', NEW, desk)).status).toBe(403)
    expect((await post('/people', NEW)).status).toBe(401)
    expect((await post('/people', { ...NEW, password: 'short' }, manager)).status).toBe(400)
    const self = { kind: 'deactivate', memberId: t.clinic.manager }
    expect((await post('/people', self, manager)).status).toBe(422)
    expect(await t.house.readSession(manager)).not.toBeNull()
  })

  it('[override/no-reason] overrides are counted from the journal, for the manager alone', async () => {
    const dentist = await addPerson(t.clinic, 'Dr Quill', 'dentist')
    const booked = (given: string) => ({
      siteId: t.clinic.siteId,
      day: '2026-11-24',
      startsAt: '10:00',
      minutes: 60,
      operatoryId: null,
      dentistId: dentist,
      patient: { kind: 'new', given, family: 'Kerr', born: '1990-04-02' },
      work: ['RCT 36'],
    })
    await t.clinic.done('appointment.book', booked('Ada'))
    const [appointment] = (await t.clinic.world()).appointment
    const about = `appointment:${appointment?.id}`
    const passing = { appointmentId: appointment?.id, rule: 'history/not-confirmed', about }
    const without = await t.clinic.perform('rule.override', { ...passing, reason: ' ' }, { by: dentist })
    expect(without).toMatchObject({ refused: true, findings: [{ rule: 'override/no-reason' }] })
    await t.clinic.done('rule.override', { ...passing, reason: 'asked on the phone today' }, dentist)
    const caller = await t.house.callerFor(new Headers({ cookie: manager }))
    expect(await caller.settings.overrides()).toEqual([
      { monday: '2026-11-23', rule: 'history/not-confirmed', overridden: 1, answered: 0, often: true },
    ])
    const asDentist = await t.house.callerFor(new Headers({ cookie: await t.signIn(dentist) }))
    await expect(asDentist.settings.overrides()).rejects.toThrow('for the manager')
  })
})

import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { must } from '#shared/base/assert.ts'
import type { AppointmentId, MemberId } from '#shared/ids.ts'
import { addOperatory, addPerson, newId } from '#tests/support/clinic.ts'
import { openTestHouse, PASSWORD, type TestHouse } from '#tests/support/house.ts'

const PIN = '7301'

describe('a shared station', () => {
  let t: TestHouse
  let manager: string
  let station: string
  let ana: MemberId
  let dentist: MemberId
  let appointmentId: AppointmentId
  beforeAll(async () => {
    t = await openTestHouse('pglite')
    manager = await t.signIn(t.clinic.manager)
    ana = await addPerson(t.clinic, 'Ana Assistant', 'assistant')
    dentist = await addPerson(t.clinic, 'Dr Quill', 'dentist')
    await t.clinic.done('appointment.book', {
      siteId: t.clinic.siteId,
      day: '2026-11-24',
      startsAt: '10:00',
      minutes: 60,
      operatoryId: await addOperatory(t.clinic, '3'),
      dentistId: dentist,
      patient: { kind: 'new', given: 'Ada', family: 'Kerr', born: '1990-04-02' },
      work: ['RCT 36'],
    })
    appointmentId = must((await t.clinic.world()).appointment[0], 'it was booked').id
    for (const memberId of [ana, dentist]) {
      await t.signIn(memberId)
      expect((await post('/api/people', { kind: 'pin', memberId, pin: PIN }, manager)).status).toBe(200)
    }
  }, 120_000)
  afterAll(() => t.close())

  const post = (path: string, body: unknown, cookie = ''): Promise<Response> =>
    fetch(`${t.address}${path}`, {
      method: 'POST',
      headers: { cookie, 'content-type': 'application/json' },
      body: JSON.stringify(body),
    })
  /** The cookies a browser would hold after an answer. */
  const heldAfter = (cookie: string, answer: Response): string => {
    const held = new Map(cookie.split('; ').map((each) => each.split('=') as [string, string]))
    for (const set of answer.headers.getSetCookie()) {
      const [name = '', value = ''] = (set.split(';')[0] ?? '').split('=')
      if (value === '' || /max-age=0/i.test(set)) held.delete(name)
      else held.set(name, value)
    }
    return [...held].map((pair) => pair.join('=')).join('; ')
  }
  const take = (memberId: MemberId, pin: string, cookie = station) =>
    post('/api/station', { kind: 'person', memberId, pin }, cookie)
  const ask = async (cookie: string, kind: string, input: unknown) =>
    (await t.house.callerFor(new Headers({ cookie }))).perform({
      id: newId(),
      kind,
      input,
      sawRevision: 0,
      madeAt: t.house.wall() as never,
    })

  it('case 86 is made by a signed-in manager alone, whose own sign-in there ends', async () => {
    const asAna = await t.signIn(await addPerson(t.clinic, 'Bo Assistant', 'assistant'))
    expect((await post('/api/station', { kind: 'register', name: 'Op 3' }, asAna)).status).toBe(403)
    expect((await post('/api/station', { kind: 'register', name: 'Op 3' })).status).toBe(401)
    const own = await t.signIn(await addPerson(t.clinic, 'Max Second', 'manager'))
    const made = await post('/api/station', { kind: 'register', name: 'Op 3' }, own)
    expect(made.status).toBe(200)
    expect(made.headers.getSetCookie().every((cookie) => cookie.includes('HttpOnly'))).toBe(true)
    expect(await t.house.readSession(own)).toBeNull()
    station = heldAfter(own, made)
    const room = await t.house.readSession(station)
    expect(room).toMatchObject({ audience: 'wall', roles: ['station'], station: 'Op 3' })
  })

  it('case 86 nobody there: what a corridor may see, the stop works, nothing else does', async () => {
    const caller = await t.house.callerFor(new Headers({ cookie: station }))
    const day = await caller.board.day({ siteId: t.clinic.siteId, day: '2026-11-24' as never })
    expect(day.kind).toBe('lanes')
    expect(JSON.stringify(day)).not.toMatch(/Kerr|"36"|root-canal/)
    expect(await ask(station, 'appointment.arrive', { appointmentId })).toMatchObject({
      refused: true,
      findings: [{ rule: 'person/not-allowed' }],
    })
    expect(await ask(station, 'stop.check-side', { appointmentId })).toMatchObject({ refused: false })
    const [incident] = (await t.clinic.world()).incident
    expect(incident).toMatchObject({ kind: 'stop-check-side', life: { kind: 'open' } })
  })

  it('case 86 a person by their digits; the journal keeps who and where', async () => {
    expect((await take(ana, '0000')).status).toBe(403)
    const cookie = heldAfter(station, await take(ana, PIN))
    expect(await t.house.readSession(cookie)).toMatchObject({ memberId: ana, station: 'Op 3' })
    expect(await ask(cookie, 'teeth.recount', { appointmentId, when: 'before' })).toMatchObject({
      refused: true,
      findings: [{ rule: 'recount/not-due' }],
    })
    expect(await ask(cookie, 'help.call', { appointmentId, kind: 'collapse', drill: true })).toMatchObject({
      refused: false,
    })
    const caller = await t.house.callerFor(new Headers({ cookie }))
    expect((await caller.journal.of({ appointmentId })).at(-1)).toMatchObject({ by: ana, station: 'Op 3' })
  })

  it('case 86 the dentist’s word is not given under an assistant’s digits', async () => {
    const asAna = heldAfter(station, await take(ana, PIN))
    const word = { appointmentId, number: 1 }
    expect(await ask(asAna, 'word.give', word)).toMatchObject({
      refused: true,
      findings: [{ rule: 'person/not-allowed' }],
    })
    const asDentist = heldAfter(asAna, await take(dentist, PIN, asAna))
    const answer = await ask(asDentist, 'word.give', word)
    expect(answer.findings.map(({ rule }) => rule)).not.toContain('person/not-allowed')
  })

  it('who stood there before is signed out by who comes next, and by leaving', async () => {
    const first = heldAfter(station, await take(ana, PIN))
    const second = heldAfter(first, await take(dentist, PIN, first))
    expect(await t.house.readSession(first)).toMatchObject({ roles: ['station'] })
    const left = await post('/api/auth/sign-out', {}, second)
    expect(left.status).toBe(200)
    expect(await t.house.readSession(second)).toMatchObject({ roles: ['station'], audience: 'wall' })
  })

  it('digits open nothing where there is no station, and rest after five wrong tries, however fast', async () => {
    expect((await take(ana, PIN, await t.signIn(await addPerson(t.clinic, 'Cy', 'assistant')))).status).toBe(
      403,
    )
    const tries = await Promise.all(Array.from({ length: 12 }, () => take(dentist, '0000')))
    expect(tries.filter(({ status }) => status === 403)).toHaveLength(5)
    expect(tries.filter(({ status }) => status === 429)).toHaveLength(7)
    expect((await take(dentist, PIN)).status).toBe(429)
    expect((await take(ana, PIN)).status).toBe(200)
  })

  it('a manager’s rights stay behind their password', async () => {
    const both = await addPerson(t.clinic, 'Dr Both', 'dentist')
    await t.clinic.done('person.change', { memberId: both, roles: ['dentist', 'manager'] })
    await t.signIn(both)
    await post('/api/people', { kind: 'pin', memberId: both, pin: PIN }, manager)
    const cookie = heldAfter(station, await take(both, PIN))
    expect(await t.house.readSession(cookie)).toMatchObject({ roles: ['dentist'] })
    const changing = { memberId: ana, shortName: 'A. Assistant' }
    expect(await ask(cookie, 'person.change', changing)).toMatchObject({ refused: true })
    expect((await post('/api/people', { kind: 'pin', memberId: ana, pin: '9999' }, cookie)).status).toBe(403)
  })

  it('a person changes their own digits by their password, nobody else’s, and guesses are counted', async () => {
    const own = await addPerson(t.clinic, 'Kit Own', 'assistant')
    const cookie = await t.signIn(own)
    await post('/api/people', { kind: 'pin', memberId: own, pin: PIN }, manager)
    const change = (pin: string, password: string, by = cookie) =>
      post('/api/own-digits', { pin, password }, by)
    expect((await change('2468', 'not my password')).status).toBe(403)
    expect((await change('246', PASSWORD)).status).toBe(400)
    expect((await change('2468', PASSWORD, '')).status).toBe(401)
    expect((await take(own, PIN)).status).toBe(200)
    expect((await change('2468', PASSWORD)).status).toBe(200)
    expect((await take(own, PIN)).status).toBe(403)
    expect((await take(own, '2468')).status).toBe(200)
    expect((await take(ana, PIN)).status).toBe(200)
    const tries = await Promise.all(Array.from({ length: 12 }, (_, at) => change('1357', `guess ${at}`)))
    expect(tries.filter(({ status }) => status === 403)).toHaveLength(5)
    expect(tries.filter(({ status }) => status === 429)).toHaveLength(7)
    expect((await change('1357', PASSWORD)).status).toBe(429)
    expect((await take(own, '2468')).status).toBe(200)
  })

  it('a station that is none any more signs out whoever stands there', async () => {
    const cookie = heldAfter(station, await take(ana, PIN))
    const stationId = must(await t.house.readSession(station), 'it is a station').memberId
    expect((await post('/api/people', { kind: 'deactivate', memberId: stationId }, manager)).status).toBe(200)
    expect(await t.house.readSession(cookie)).toBeNull()
    expect(await t.house.readSession(station)).toBeNull()
    expect((await take(ana, PIN)).status).toBe(403)
  })
})

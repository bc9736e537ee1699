import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { ENGINES } from '#db/database.ts'
import { addPerson, newId } from '#tests/support/clinic.ts'
import { openTestHouse, type TestHouse } from '#tests/support/house.ts'

const DAY = '2026-11-24'
const THREE_PARTS = { what: expect.any(String), why: expect.any(String), todo: expect.any(String) }

describe.each(ENGINES)('queries and the one mutation over HTTP on %s', (engine) => {
  let t: TestHouse
  let manager: string
  let desk: string
  beforeAll(async () => {
    t = await openTestHouse(engine)
    manager = await t.signIn(t.clinic.manager)
    desk = await t.signIn(await addPerson(t.clinic, 'Dora Desk', 'front-desk'))
  })
  afterAll(() => t.close())

  const query = async (
    path: string,
    input: unknown,
    cookie: string,
    headers: Record<string, string> = {},
  ) => {
    const asked = `${t.address}/api/trpc/${path}?input=${encodeURIComponent(JSON.stringify(input))}`
    const answer = await fetch(asked, { headers: { cookie, ...headers } })
    return { status: answer.status, body: (await answer.json()) as Body }
  }
  const mutate = async (body: unknown, cookie: string, headers: Record<string, string> = {}) => {
    const answer = await fetch(`${t.address}/api/trpc/perform`, {
      method: 'POST',
      headers: { cookie, 'content-type': 'application/json', ...headers },
      body: typeof body === 'string' ? body : JSON.stringify(body),
    })
    return { status: answer.status, body: (await answer.json()) as Body }
  }
  type Body = {
    result?: { data: Record<string, unknown> }
    error?: { message: string; data: { trouble: unknown } } | { what: string }
    refused?: boolean
  }
  const booking = () => ({
    siteId: t.clinic.siteId,
    day: DAY,
    startsAt: '10:00',
    minutes: 60,
    operatoryId: null,
    dentistId: null,
    patient: { kind: 'new', given: 'Ada', family: 'Kerr', born: '1990-04-02' },
    work: ['RCT 36'],
  })
  const command = (kind: string, input: unknown, more: object = {}) => ({
    id: newId(),
    kind,
    input,
    sawRevision: 0,
    madeAt: 0,
    ...more,
  })

  it('performs a command and answers with its revision, and again the same', async () => {
    const asked = command('appointment.book', booking())
    const first = await mutate(asked, desk)
    expect(first).toMatchObject({
      status: 200,
      body: { result: { data: { refused: false, revision: expect.any(Number) } } },
    })
    expect(await mutate(asked, desk)).toEqual(first)
    expect(first.body.result?.data).not.toHaveProperty('change')
  })

  it('gives facts to those who may hold them and judged lanes to the desk', async () => {
    const asked = { siteId: t.clinic.siteId, day: DAY }
    const clinical = await query('board.day', asked, manager)
    expect(clinical.body.result?.data).toMatchObject({
      kind: 'facts',
      revision: expect.any(Number),
      world: { clinic: [{}] },
    })
    const judged = await query('board.day', asked, desk)
    expect(judged.body.result?.data).toMatchObject({ kind: 'lanes', board: { lanes: [] } })
    expect(judged.body.result?.data).not.toHaveProperty('world')
    const wall = await query('board.wall', asked, manager)
    expect(wall.body.result?.data).toMatchObject({ kind: 'lanes' })
  })

  it('keeps the plan page from the desk and notes who read it', async () => {
    const [appointment] = (await t.clinic.world()).appointment
    const asked = { appointmentId: appointment?.id }
    expect((await query('appointments.window', asked, desk)).status).toBe(403)
    expect((await query('appointments.window', asked, manager)).body.result?.data).toMatchObject({
      world: { appointment: [{ id: appointment?.id }], work: [{}] },
    })
    const readers = await t.clinic.in((tx) => tx`select member_id from read_log`)
    expect(readers.map((row) => row.member_id)).toEqual([t.clinic.manager])
  })

  it('tells the story of an appointment: who, what, in order', async () => {
    const [appointment] = (await t.clinic.world()).appointment
    await mutate(command('appointment.arrive', { appointmentId: appointment?.id }), desk)
    const story = await query('journal.of', { appointmentId: appointment?.id }, manager)
    const steps = story.body.result?.data as unknown as { kind: string }[]
    expect(steps.map(({ kind }) => kind)).toEqual(['appointment.book', 'appointment.arrive'])
  })

  it('says who is signed in, and to nobody that nobody is', async () => {
    const me = await t.house.callerFor(new Headers({ cookie: manager }))
    expect(await me.me()).toMatchObject({
      audience: 'clinical',
      member: { id: t.clinic.manager },
      sites: [{ today: DAY }],
    })
    const nobody = await t.house.callerFor(new Headers())
    expect(await nobody.me()).toBeNull()
    expect(await nobody.signIn.doors()).toMatchObject({
      clinicName: 'Invented clinic',
      people: expect.any(Array),
    })
  })

  it.each([
    ['without a sign-in', 401, { cookie: '' }, {}],
    ['from a foreign Origin', 403, {}, { origin: 'https://elsewhere.example' }],
    ['that is not JSON by its type', 415, {}, { 'content-type': 'text/plain' }],
    ['that is not JSON', 400, { body: '{"id":' }, {}],
    ['of an unknown kind', 400, { kind: 'no.such-command' }, {}],
    ['with an unknown id in the wrong form', 400, { input: { appointmentId: 'x' } }, {}],
    ['that is too large', 413, { note: 'n'.repeat(1024 * 1024) }, {}],
  ] as const)(
    'refuses a command %s with %i and an error in three parts',
    async (_name, status, more, headers) => {
      const {
        cookie = manager,
        body,
        note,
        kind = 'appointment.arrive',
        input = {},
      } = more as {
        cookie?: string
        body?: string
        note?: string
        kind?: string
        input?: unknown
      }
      const answer = await mutate(
        body ?? command(kind, note ? { ...booking(), note } : input),
        cookie,
        headers,
      )
      expect(answer.status).toBe(status)
      const { error } = answer.body
      expect(error && 'data' in error ? error.data.trouble : error).toEqual(THREE_PARTS)
    },
  )

  it('[person/not-allowed] refuses what a role may not, as a finding and not an error', async () => {
    const answer = await mutate(command('person.deactivate', { memberId: t.clinic.manager }), desk)
    expect(answer).toMatchObject({
      status: 200,
      body: { result: { data: { refused: true, findings: [{ rule: 'person/not-allowed' }] } } },
    })
  })

  it('finds patients by the beginning of their name, and tells nothing clinical', async () => {
    const found = await query('patients.find', { text: 'ke' }, desk)
    expect(found.body.result?.data).toEqual([
      { id: expect.any(String), given: 'Ada', family: 'Kerr', born: '1990-04-02' },
    ])
  })
})

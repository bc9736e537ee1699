import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { ENGINES } from '#db/database.ts'
import { answerVerb } from '#server/command-line/verbs.ts'
import { addAccount } from '#server/sign-in/accounts.ts'
import type { MemberId } from '#shared/ids.ts'
import { addPerson, newId } from '#tests/support/clinic.ts'
import { openTestHouse, type TestHouse } from '#tests/support/house.ts'

const DAY = '2026-11-24'
const THREE_PARTS = { what: expect.any(String), why: expect.any(String), todo: expect.any(String) }

interface Body {
  result?: {
    data: { world: Record<string, { id: string }[]>; told: Record<string, unknown[]>; findings: object[] }
  }
  error?: { data: { trouble: object } }
}

describe.each(ENGINES)('the steriliser over HTTP on %s', (engine) => {
  let t: TestHouse
  let lead: string
  let leadId: MemberId
  let assistant: string
  let desk: string
  beforeAll(async () => {
    t = await openTestHouse(engine)
    leadId = await addPerson(t.clinic, 'Lena Lead', 'steriliser-lead')
    lead = await t.signIn(leadId)
    assistant = await t.signIn(await addPerson(t.clinic, 'Ada Aide', 'assistant'))
    desk = await t.signIn(await addPerson(t.clinic, 'Dora Desk', 'front-desk'))
  })
  afterAll(() => t.close())

  const query = async (path: string, input: unknown, cookie: string) => {
    const asked = `${t.address}/api/trpc/${path}${input === undefined ? '' : `?input=${encodeURIComponent(JSON.stringify(input))}`}`
    const answer = await fetch(asked, { headers: { cookie } })
    return { status: answer.status, body: (await answer.json()) as Body }
  }
  const perform = async (kind: string, input: unknown) => {
    const answer = await fetch(`${t.address}/api/trpc/perform`, {
      method: 'POST',
      headers: { cookie: lead, 'content-type': 'application/json' },
      body: JSON.stringify({ id: newId(), kind, input, sawRevision: 0, madeAt: 0 }),
    })
    expect(await answer.json()).toMatchObject({ result: { data: { refused: false } } })
  }
  const here = () => ({ siteId: t.clinic.siteId, day: DAY })
  const worldNow = async () => (await query('sterility.window', here(), lead)).body.result?.data.world
  const readings = () => t.clinic.in((tx) => tx`select page from read_log where page = 'recall'`)

  it('is for those who run it: the assistant and the desk are told so in three parts', async () => {
    for (const cookie of [assistant, desk]) {
      for (const [path, input] of [
        ['sterility.window', here()],
        ['sterility.recall', { kind: 'load', loadId: newId() }],
        ['sterility.labels', { loadId: newId() }],
        ['sterility.faults', undefined],
      ] as const) {
        const { status, body } = await query(path, input, cookie)
        expect(status).toBe(403)
        expect(body.error?.data.trouble).toMatchObject(THREE_PARTS)
      }
      expect(
        (await fetch(`${t.address}/api/recall?kind=load&loadId=${newId()}`, { headers: { cookie } })).status,
      ).toBe(403)
    }
    expect(await readings()).toHaveLength(0)
  })

  it('holds its window and is told of what is started there; the desk’s stream is refused', async () => {
    await perform('steriliser.add', { siteId: t.clinic.siteId, name: 'S1', type: 'gravity' })
    const steriliserId = (await worldNow())?.steriliser?.[0]?.id
    await perform('load.start', { steriliserId, number: 'L1', programme: 'wrapped-instruments' })
    expect(await worldNow()).toMatchObject({ load: [{ number: 'L1', life: { kind: 'running' } }] })
    const window = `sterility/${t.clinic.siteId}/${DAY}`
    const refused = await fetch(`${t.address}/api/changes?window=${window}&since=0`, {
      headers: { cookie: desk },
    })
    expect(refused.status).toBe(403)
  })

  it('labels the packs of a load, and recalls them from the load, the pack, the day and the steriliser alike', async () => {
    const world = await worldNow()
    const [steriliserId, loadId] = [world?.steriliser?.[0]?.id, world?.load?.[0]?.id]
    await perform('pack.make', { steriliserId, loadId, kind: 'dam-set', setId: null, place: 'bay' })
    const packId = (await worldNow())?.pack?.[0]?.id
    const labels = await query('sterility.labels', { loadId }, lead)
    expect(labels.body.result?.data).toMatchObject([{ packId, load: 'L1', steriliser: 'S1', day: DAY }])
    for (const asked of [
      { kind: 'load', loadId },
      { kind: 'pack', packId },
      { kind: 'steriliser', steriliserId },
      { kind: 'day', siteId: t.clinic.siteId, day: DAY, steriliserId: null },
      { kind: 'day', siteId: t.clinic.siteId, day: DAY, steriliserId },
    ]) {
      const { body } = await query('sterility.recall', asked, lead)
      expect(body.result?.data.told).toMatchObject({
        packs: [{ packId }],
        loads: [{ id: loadId }],
        patients: [],
      })
    }
    const other = await query(
      'sterility.recall',
      { kind: 'day', ...here(), day: '2026-11-23', steriliserId: null },
      lead,
    )
    expect(other.body.result?.data.told).toMatchObject({ packs: [], loads: [] })
  })

  it('gives the recall as a file, and every reading of one is kept', async () => {
    const before = (await readings()).length
    expect(before).toBeGreaterThan(0)
    const loadId = (await worldNow())?.load?.[0]?.id
    const file = await fetch(`${t.address}/api/recall?kind=load&loadId=${loadId}`, {
      headers: { cookie: lead },
    })
    expect(file.headers.get('content-type')).toMatch(/^text\/csv/)
    expect((await file.text()).split('\r\n')).toHaveLength(3)
    expect(await readings()).toHaveLength(before + 1)
    expect((await fetch(`${t.address}/api/recall?kind=moon`, { headers: { cookie: lead } })).status).toBe(400)
    expect((await fetch(`${t.address}/api/recall?kind=load&loadId=${loadId}`)).status).toBe(401)
  })

  it('sends a pack to another site, whose bench sees it come with its load, and counts no fault where none was found', async () => {
    await t.clinic.done('site.set', {
      siteId: null,
      name: 'North',
      zone: 'Europe/Dublin',
      opensAt: '08:00',
      closesAt: '17:00',
      assistantPlaces: 'allowed',
    })
    const world = await worldNow()
    const north = world?.site?.find(({ id }) => id !== t.clinic.siteId)?.id
    const [steriliserId, loadId] = [world?.steriliser?.[0]?.id, world?.load?.[0]?.id]
    await perform('indicator.place', { steriliserId, loadId, kind: 'chemical' })
    const indicatorId = (await worldNow())?.indicator?.[0]?.id
    await perform('indicator.read', { steriliserId, indicatorId, result: 'pass' })
    await perform('load.end', { loadId, deciCelsius: 1340, seconds: 960 })
    await t.clinic.done('person.change', { memberId: leadId, releasesLoads: true })
    await perform('load.release', { steriliserId, loadId })
    const [pack] = ((await worldNow())?.pack ?? []) as { id: string; code?: string }[]
    await perform('set.send', { code: pack?.code, to: north })
    const there = await query('sterility.window', { siteId: north, day: DAY }, lead)
    expect(there.body.result?.data.world).toMatchObject({
      steriliser: [],
      pack: [{ id: pack?.id, life: { kind: 'in-transit', to: north } }],
    })
    await perform('set.arrive', { code: pack?.code, siteId: north, place: 'bay N' })
    const arrived = await query('sterility.window', { siteId: north, day: DAY }, lead)
    expect(arrived.body.result?.data.world).toMatchObject({
      pack: [{ id: pack?.id, siteId: north, life: { kind: 'shelf', place: 'bay N' } }],
      load: [{ id: loadId, life: { kind: 'released' } }],
      indicator: [{ id: indicatorId }],
    })
    expect((await worldNow())?.pack).toEqual([])
    expect((await query('sterility.faults', undefined, lead)).body.result?.data).toEqual([])
  })

  it('the command line forecasts the booked day and recalls from load, pack, steriliser, day and test alike', async () => {
    const email = 'mona@weirboard.invalid'
    const memberId = await addPerson(t.clinic, 'Mona Manager', 'manager')
    const account = { name: 'Mona', email, password: 'a password of the tests', memberId }
    await addAccount(t.house.accounts, t.house.database.db, { ...account, clinicId: t.clinic.clinicId })
    const ask = (request: object) =>
      answerVerb(t.house, {
        verb: '',
        clinic: t.clinic.clinicId,
        as: email,
        mapping: null,
        file: null,
        ...request,
      })
    await t.clinic.done('appointment.book', {
      siteId: t.clinic.siteId,
      day: DAY,
      startsAt: '10:00',
      minutes: 60,
      operatoryId: null,
      dentistId: null,
      patient: { kind: 'new', given: 'Ada', family: 'Kerr', born: '1990-04-02' },
      work: ['Check-up'],
    })
    const { sites } = (await ask({ verb: 'forecast' })).body as { sites: { site: { name: string } }[] }
    expect(sites.map(({ site }) => site.name)).toContain('North')
    expect((await ask({ verb: 'forecast', site: 'north' })).body).toMatchObject({
      site: { name: 'North' },
      kinds: [],
      sites: [{ steriliserInService: false }],
    })
    expect((await ask({ verb: 'forecast', site: 'South' })).exit).toBe(2)
    const [here] = sites.filter(({ site }) => site.name !== 'North')
    const { kinds } = (await ask({ verb: 'forecast', site: here?.site.name })).body as { kinds: object[] }
    expect(kinds).toMatchObject([{ kind: 'examination-set', needed: 1, coversNext: 0, first: { short: 1 } }])

    const steriliserId = (await worldNow())?.steriliser?.[0]?.id
    await perform('indicator.place', { steriliserId, loadId: null, kind: 'spore' })
    const { indicator, load, pack } = await t.clinic.world()
    const spore = indicator.find(({ kind }) => kind === 'spore')
    for (const from of [
      { load: 'L1' },
      { pack: pack[0]?.code },
      { steriliser: 'S1' },
      { day: DAY },
      { day: DAY, steriliser: 'S1' },
      { indicator: spore?.id },
    ]) {
      const { body, exit } = await ask({ verb: 'recall', ...from })
      expect(exit).toBe(0)
      expect(body).toMatchObject({ loads: [{ id: load[0]?.id }], packs: [{ code: pack[0]?.code }] })
    }
    expect((await ask({ verb: 'recall', day: '2026-11-23' })).body).toMatchObject({ loads: [], packs: [] })
  })
})

import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { ENGINES } from '#db/database.ts'
import type { MemberId } from '#shared/ids.ts'
import { addPerson } from '#tests/support/clinic.ts'
import { list, row } from '../imports/small-clinic.ts'
import { openServed, type Served } from './served.ts'

describe.each(ENGINES)('giving the day back, on %s', (engine) => {
  let served: Served
  let cookies: { manager: string; desk: string; dentist: string }
  let dentist: MemberId
  let operatory: string
  beforeAll(async () => {
    served = await openServed(engine)
    const { clinic, signIn } = served
    const world = await clinic.world()
    dentist = world.member.find(({ name }) => name === 'Dr Corrigan')?.id as MemberId
    operatory = world.operatory.find(({ name }) => name === '1')?.id as string
    cookies = {
      manager: await signIn(clinic.manager),
      desk: await signIn(await addPerson(clinic, 'Nell Quay', 'front-desk')),
      dentist: await signIn(dentist),
    }
    await served.bring(
      list(
        row({ allergies: 'latex' }),
        row({ id: 'b', start: '11:00', patient: 'Yarrow, Wanda', operatory: '2', status: 'cancelled' }),
      ),
    )
  })
  afterAll(() => served.close())
  const get = (path: string, headers: Record<string, string> = {}) =>
    fetch(`${served.at}${path}`, { headers })

  test('a day comes as CSV, calendar and FHIR, and is not stored on the way', async () => {
    const day = 'day=2026-11-24'
    for (const [file, type, holds] of [
      ['day.csv', 'text/csv', 'Ashgrove'],
      ['day.ics', 'text/calendar', 'STATUS:CANCELLED'],
      ['day.fhir.json', 'application/fhir+json', 'AllergyIntolerance'],
    ] as const) {
      const answer = await get(`/api/export/${file}?${day}`, { cookie: cookies.manager })
      expect([answer.status, answer.headers.get('cache-control')]).toEqual([200, 'no-store'])
      expect(answer.headers.get('content-type')).toContain(type)
      expect(answer.headers.get('content-disposition')).toContain(`2026-11-24${file.slice(3)}`)
      expect(await answer.text()).toContain(holds)
    }
    const other = await get('/api/export/day.csv?day=2026-11-25', { cookie: cookies.manager })
    expect(await other.text()).not.toContain('Ashgrove')
  })

  test('allergies leave the house only with those who may read them', async () => {
    expect((await get('/api/export/day.csv')).status).toBe(401)
    expect((await get('/api/export/day.fhir.json', { cookie: cookies.desk })).status).toBe(403)
    for (const file of ['day.csv', 'day.ics']) {
      const answer = await get(`/api/export/${file}?day=2026-11-24`, { cookie: cookies.desk })
      expect(answer.status).toBe(200)
      expect(await answer.text()).not.toContain('latex')
    }
    expect((await get('/api/export/day.csv?day=soon', { cookie: cookies.desk })).status).toBe(400)
    expect((await get('/api/export/day.pdf', { cookie: cookies.desk })).status).toBe(404)
  })

  test('what is exported comes back and changes nothing', async () => {
    const answer = await get('/api/export/day.fhir.json?day=2026-11-24', { cookie: cookies.manager })
    const again = await served.bring(await answer.text())
    expect(again).toMatchObject({
      refused: false,
      change: { put: { importBatch: [{ counts: { new: 0, changed: 0, unchanged: 2, vanished: 0 } }] } },
    })
  })

  const callerOf = (cookie: string) => served.house.callerFor(new Headers({ cookie }))

  test('a feed names no patient, is asked for again by its tag, and only grows', async () => {
    const caller = await callerOf(cookies.manager)
    const { path } = await caller.feeds.make({ kind: 'operatory', targetId: operatory })
    const first = await get(path)
    const text = await first.text()
    expect(first.status).toBe(200)
    expect(first.headers.get('cache-control')).toContain('private')
    expect(text).toContain('DTSTART:20261124T100000Z')
    for (const word of ['Ashgrove', 'Aoife', 'latex', 'comp 46', 'Yarrow']) expect(text).not.toContain(word)

    const tag = first.headers.get('etag') ?? ''
    expect((await get(path, { 'if-none-match': `W/${tag}, "x"` })).status).toBe(304)
    const sequence = (ics: string) => Number(/SEQUENCE:(\d+)/.exec(ics)?.[1])
    await served.bring(
      list(
        row({ start: '10:15' }),
        row({ id: 'b', start: '11:00', patient: 'Yarrow, Wanda', operatory: '2', status: 'cancelled' }),
      ),
    )
    const moved = await get(path, { 'if-none-match': tag })
    expect(moved.status).toBe(200)
    const later = await moved.text()
    expect(later).toContain('DTSTART:20261124T101500Z')
    expect(sequence(later)).toBeGreaterThan(sequence(text))
  })

  test('what was cancelled stays in its feed as cancelled', async () => {
    const caller = await callerOf(cookies.manager)
    const { path } = await caller.feeds.make({ kind: 'dentist', targetId: dentist })
    expect(await (await get(path)).text()).toContain('STATUS:CANCELLED')
  })

  /** The event of a feed's text, by who it is. */
  const eventIn = (ics: string, uid: string): string | undefined =>
    ics.split('BEGIN:VEVENT').find((event) => event.includes(uid))
  const sequenceOf = (event = ''): number => Number(/SEQUENCE:(\d+)/.exec(event)?.[1])

  test('what goes to another operatory or dentist is cancelled in the old feed with a grown sequence, and stays so', async () => {
    const caller = await callerOf(cookies.manager)
    await addPerson(served.clinic, 'Dr Feher', 'dentist')
    const { path: here } = await caller.feeds.make({ kind: 'operatory', targetId: operatory })
    const { path: hers } = await caller.feeds.make({ kind: 'dentist', targetId: dentist })
    const walk = row({ id: 'walk', start: '15:00', patient: 'Pell, Otis' })
    const rest = [
      row({ start: '10:15' }),
      row({ id: 'b', start: '11:00', patient: 'Yarrow, Wanda', operatory: '2', status: 'cancelled' }),
    ]
    await served.bring(list(...rest, walk))
    const world = await served.clinic.world()
    const { id: uid } = world.appointment.find(({ external }) => external?.externalId === 'walk') ?? {}
    const textOf = async (path: string) => await (await get(path)).text()
    const before = eventIn(await textOf(here), `${uid}`)
    expect(before).toContain('STATUS:CONFIRMED')

    const moved = row({
      id: 'walk',
      start: '16:00',
      patient: 'Pell, Otis',
      operatory: '2',
      dentist: 'Dr Feher',
    })
    await served.bring(list(...rest, moved))
    for (const path of [here, hers]) {
      const gone = eventIn(await textOf(path), `${uid}`)
      expect(gone).toContain('STATUS:CANCELLED')
      expect(gone).toContain('DTSTART:20261124T150000Z')
      expect(sequenceOf(gone)).toBeGreaterThan(sequenceOf(before))
      expect(gone).not.toMatch(/Pell|Otis|comp 46/)
    }
    await served.bring(list(...rest, moved.replace('16:00', '16:30')))
    expect(eventIn(await textOf(here), `${uid}`)).toContain('STATUS:CANCELLED')

    const brought = await served.bring(await textOf(here))
    expect(brought).toMatchObject({
      change: { put: { importBatch: [{ counts: { changed: 0, cancelled: 0, vanished: 0, problems: 0 } }] } },
    })

    await served.bring(list(...rest, walk))
    const again = eventIn(await textOf(here), `${uid}`)
    expect(again).toContain('STATUS:CONFIRMED')
    expect(await textOf(here)).not.toContain('X-WEIRBOARD-MOVED-AWAY')
  })

  test('what is taken back altogether is cancelled in its feed', async () => {
    const caller = await callerOf(cookies.manager)
    const { path } = await caller.feeds.make({ kind: 'operatory', targetId: operatory })
    const performed = await served.bring(
      list(row({ id: 'once', day: '2026-11-27', patient: 'Rusk, Ada' })),
      'a list read in by mistake',
    )
    if (performed.refused) throw new Error('refused')
    const world = await served.clinic.world()
    const { id: uid } = world.appointment.find(({ external }) => external?.externalId === 'once') ?? {}
    await served.clinic.done('journal.undo', { revision: performed.revision, reason: 'the wrong list' })
    const gone = eventIn(await (await get(path)).text(), `${uid}`)
    expect(gone).toContain('STATUS:CANCELLED')
    expect(gone).toContain('DTSTART:20261127T100000Z')
  })

  test('who gave out which days, where and when, and who took them back, is kept for the manager to read', async () => {
    const caller = await callerOf(cookies.manager)
    const of = { kind: 'operatory', targetId: operatory } as const
    const before = (await caller.feeds.log()).length
    await caller.feeds.make({ ...of, detail: true })
    await caller.feeds.revoke(of)
    // There is none any more: nothing is taken back.
    await caller.feeds.revoke(of)
    const log = await caller.feeds.log()
    expect(log).toHaveLength(before + 2)
    const line = { ...of, detail: true, memberId: served.clinic.manager, station: expect.any(String) }
    expect(
      log
        .filter(({ detail }) => detail)
        .map(({ act }) => act)
        .sort(),
    ).toEqual(['made', 'revoked'])
    expect(log.find(({ detail }) => detail)).toMatchObject(line)
    const desk = await callerOf(cookies.desk)
    await expect(desk.feeds.log()).rejects.toThrow('Only the manager')
  })

  test('a new address revokes the old one; a revoked one leads nowhere', async () => {
    const caller = await callerOf(cookies.manager)
    const of = { kind: 'operatory', targetId: operatory } as const
    const old = await caller.feeds.make(of)
    const fresh = await caller.feeds.make(of)
    expect([(await get(old.path)).status, (await get(fresh.path)).status]).toEqual([404, 200])
    const listed = await caller.feeds.list()
    expect(JSON.stringify(listed)).not.toContain(fresh.path.slice(6, 20))
    const kept = await served.house.database.sql.unsafe('select * from feed_address')
    expect(JSON.stringify([...kept])).not.toContain(fresh.path.slice(6, 20))
    await caller.feeds.revoke(of)
    expect((await get(fresh.path)).status).toBe(404)
    expect((await get('/feed/x.ics')).status).toBe(404)
  })

  test('everybody but the manager gives out their own days only, and never with names', async () => {
    const own = await callerOf(cookies.dentist)
    const mine = { kind: 'dentist', targetId: dentist } as const
    expect((await get((await own.feeds.make(mine)).path)).status).toBe(200)
    await expect(own.feeds.make({ ...mine, detail: true })).rejects.toThrow('Only the manager')
    await expect(own.feeds.make({ kind: 'operatory', targetId: operatory })).rejects.toThrow(
      'Only the manager',
    )
    const desk = await callerOf(cookies.desk)
    await expect(desk.feeds.revoke(mine)).rejects.toThrow('Only the manager')
  })
})

import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { ENGINES } from '#db/database.ts'
import { previewBrought } from '#server/imports/take.ts'
import type { RosterDay } from '#server/trpc/roster-router.ts'
import type { AppointmentId, MemberId } from '#shared/ids.ts'
import { addOperatory, addPerson } from '#tests/support/clinic.ts'
import { openTestHouse, type TestHouse } from '#tests/support/house.ts'
import { list, row } from '../imports/small-clinic.ts'

const DAY = '2026-11-24'

describe.each(ENGINES)('who works when, on %s', (engine) => {
  let t: TestHouse
  let away: MemberId
  let other: MemberId
  let visits: AppointmentId[]
  beforeAll(async () => {
    t = await openTestHouse(engine)
    away = await addPerson(t.clinic, 'Dr Away', 'dentist')
    other = await addPerson(t.clinic, 'Dr Other', 'dentist')
    const operatoryId = await addOperatory(t.clinic, '1')
    for (const startsAt of ['09:00', '10:00', '11:00', '12:00', '13:00']) {
      await t.clinic.done('appointment.book', {
        ...{ siteId: t.clinic.siteId, day: DAY, startsAt, minutes: 30, operatoryId, dentistId: away },
        patient: { kind: 'new', given: 'Ann', family: `Kerr ${startsAt}`, born: '1990-04-02' },
        work: ['RCT 36'],
      })
    }
    visits = (await t.clinic.world()).appointment.map(({ id }) => id)
  })
  afterAll(() => t.close())

  const query = async (path: string, input: object, cookie: string) => {
    const asked = `${t.address}/api/trpc/${path}?input=${encodeURIComponent(JSON.stringify(input))}`
    const answer = await fetch(asked, { headers: { cookie } })
    const body = (await answer.json()) as { result?: { data: RosterDay } }
    return { status: answer.status, data: body.result?.data }
  }
  const roster = (cookie: string) => query('roster.day', { siteId: t.clinic.siteId, day: DAY }, cookie)
  const theirs = (day: RosterDay | undefined, memberId: MemberId) =>
    day?.visits.filter(({ dentistId }) => dentistId === memberId).length

  test('case 78 five visits change hands in one revision, and the day tells it', async () => {
    const desk = await t.signIn(await addPerson(t.clinic, 'Dora Desk', 'front-desk'))
    await t.clinic.done('roster.set', {
      ...{ memberId: away, siteId: t.clinic.siteId, day: DAY },
      hours: [
        { from: '08:00', to: '12:00' },
        { from: '12:30', to: '17:00' },
      ],
    })
    expect(theirs((await roster(desk)).data, away)).toBe(5)
    const before = await t.clinic.perform('roster.set', {
      ...{ memberId: other, siteId: t.clinic.siteId, day: DAY, hours: [] },
    })
    const handed = await t.clinic.perform('person.away', {
      ...{ memberId: away, siteId: t.clinic.siteId, day: DAY, from: '07:50', to: '23:59' },
      handOver: visits.map((appointmentId) => ({ appointmentId, dentistId: other })),
    })
    expect([before.refused, handed.refused]).toEqual([false, false])
    if (before.refused || handed.refused) return
    expect(handed.revision).toBe(before.revision + 1)
    const world = await t.clinic.world()
    expect(world.appointment.map(({ dentistId, formerDentist }) => [dentistId, formerDentist])).toEqual(
      visits.map(() => [
        other,
        {
          memberId: away,
          why: 'away',
          by: t.clinic.manager,
          since: expect.any(Number),
          called: null,
        },
      ]),
    )
    const { data } = await roster(desk)
    expect(data?.people.find(({ memberId }) => memberId === away)).toEqual({
      ...{ memberId: away, shortName: 'Dr Away', roles: ['dentist'] },
      hours: [
        { from: '08:00', to: '12:00' },
        { from: '12:30', to: '17:00' },
      ],
      away: [{ from: '07:50', to: '23:59', by: t.clinic.manager }],
    })
    expect([theirs(data, away), theirs(data, other)]).toEqual([0, 5])
    // Names as on the board; nothing clinical comes along.
    expect(JSON.stringify(data)).not.toMatch(/RCT|allerg|1990/)
  })

  test('only who may change the day is told who is away', async () => {
    const assistant = await t.signIn(await addPerson(t.clinic, 'Ida', 'assistant'))
    expect((await roster(assistant)).status).toBe(403)
  })

  test('a name is remembered for a source before its first file, and the file is read by it', async () => {
    const file = list(
      row({ operatory: 'Blue room', dentist: 'Dr Y', patient: 'Ames, Ivy', born: '1971-01-01' }),
    )
    const by = { clinicId: t.clinic.clinicId, memberId: t.clinic.manager, station: 'test' }
    const preview = () =>
      previewBrought(t.house, by, {
        ...{ bytes: Buffer.from(file), fileName: 'day.csv', source: 'other diary', mapping: {} },
        ...{ dateOrder: null, notation: 'iso', zone: null },
      })
    expect((await preview()).names.map(({ name }) => name)).toEqual(['Blue room', 'Dr Y'])
    const { operatory } = await t.clinic.world()
    const names = [
      { kind: 'operatory', name: 'Blue room', id: operatory[0]?.id },
      { kind: 'dentist', name: 'Dr Y', id: other },
    ]
    await t.clinic.done('import.map', { sourceId: null, sourceName: 'other diary', notation: 'iso', names })
    // A second time by its name: the source that was made is found, none is made beside it.
    await t.clinic.done('import.map', { sourceId: null, sourceName: 'other diary', names: [] })
    expect((await t.clinic.world()).importSource).toHaveLength(1)
    expect(await preview()).toMatchObject({ names: [], counts: { new: 1, problems: 0 } })
  })
})

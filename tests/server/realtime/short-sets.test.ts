import pino from 'pino'
import { afterAll, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest'
import { type Database, ENGINES } from '#db/database.ts'
import { type Hub, openHub } from '#server/realtime/hub.ts'
import { must } from '#shared/base/assert.ts'
import { parseDay } from '#shared/base/moment.ts'
import type { Window } from '#shared/window.ts'
import { addOperatory, addPerson, foundClinic, MORNING, type TestClinic } from '#tests/support/clinic.ts'
import { openFresh } from '#tests/support/database.ts'
import { openScreen } from '#tests/support/screen.ts'

const today = must(parseDay('2026-11-24'), 'a day')

describe.each(ENGINES)('what a day is short of, on %s', (engine) => {
  let database: Database
  let hub: Hub
  let clinic: TestClinic
  let window: Extract<Window, { kind: 'day' }>
  beforeAll(async () => {
    database = await openFresh(engine)
    hub = await openHub({ database, wall: () => MORNING, log: pino({ level: 'silent' }) })
  })
  beforeEach(async () => {
    clinic = await foundClinic(database)
    window = { kind: 'day', siteId: clinic.siteId, day: today }
  })
  afterAll(async () => {
    hub.close()
    await database.close()
  })

  const book = async (startsAt: string, operatoryId: string) =>
    clinic.done('appointment.book', {
      siteId: clinic.siteId,
      day: today,
      startsAt,
      minutes: 30,
      operatoryId,
      dentistId: null,
      patient: { kind: 'new', given: 'Ada', family: 'Kerr', born: '1990-04-02' },
      work: ['Check-up'],
    })
  const look = async (audience: 'clinical' | 'desk' | 'wall') => {
    const screen = openScreen(audience)
    await hub.join(clinic.clinicId, { window, since: 0 }, screen)
    return screen
  }

  /** Wraps so many examination sets and releases their load. */
  async function sterilise(sets: number): Promise<void> {
    await clinic.done('steriliser.add', { siteId: clinic.siteId, name: 'S1', type: 'gravity' })
    const steriliserId = must((await clinic.world()).steriliser[0], 'S1').id
    await clinic.done('load.start', { steriliserId, number: 'L1', programme: 'wrapped-instruments' })
    const loadId = must((await clinic.world()).load[0], 'L1').id
    const kind = 'examination-set'
    for (let made = 0; made < sets; made += 1)
      await clinic.done('pack.make', { steriliserId, loadId, kind, setId: null, place: 'bay' })
    await clinic.done('indicator.place', { steriliserId, loadId, kind: 'chemical' })
    const indicatorId = must((await clinic.world()).indicator[0], 'its indicator').id
    await clinic.done('indicator.read', { steriliserId, indicatorId, result: 'pass' })
    await clinic.done('load.end', { loadId, deciCelsius: 1340, seconds: 960 })
    const lead = await addPerson(clinic, 'Lena Lead', 'steriliser-lead')
    await clinic.done('person.change', { memberId: lead, releasesLoads: true })
    await clinic.done('load.release', { steriliserId, loadId }, lead)
  }

  it('[sets/short] is told to the chair with what would mend it, to the desk as a task, to the corridor never', async () => {
    const operatoryId = await addOperatory(clinic, '4')
    const [chair, desk, wall] = [await look('clinical'), await look('desk'), await look('wall')]
    expect(chair.short).toEqual([[]])
    await book('10:15', operatoryId)
    await vi.waitFor(() => expect(chair.short.at(-1)).toHaveLength(1), 3_000)
    expect(chair.short.at(-1)).toMatchObject([
      {
        at: Date.UTC(2026, 10, 24, 10, 15),
        operatory: '4',
        says: expect.stringMatching(/^1 examination set short: borrow/),
      },
    ])
    await vi.waitFor(() => expect(desk.short.at(-1)).toHaveLength(1), 3_000)
    const told = JSON.stringify(desk.short)
    expect(told).toContain('may have to move')
    expect(told).not.toMatch(/examination|dam|set short/)
    expect(wall.short).toEqual([])
    const { short } = await hub.snapshot(clinic.clinicId, window)
    expect(short).toEqual(chair.short.at(-1))
    expect((await hub.judged(clinic.clinicId, window, 'desk')).short).toEqual(desk.short.at(-1))
    expect((await hub.judged(clinic.clinicId, window, 'wall')).short).toEqual([])
  })

  it('goes when packs come onto the shelf, though no fact of the day moved, and a screen that comes back is told so', async () => {
    const operatoryId = await addOperatory(clinic, '4')
    await book('10:15', operatoryId)
    await book('11:15', operatoryId)
    const chair = await look('clinical')
    expect(chair.short.at(-1)).toHaveLength(2)
    await sterilise(1)
    // The first takes it; back at 11:45, it is too late for the second.
    await vi.waitFor(() => expect(chair.short.at(-1)).toHaveLength(1), 5_000)
    expect(chair.short.at(-1)?.[0]?.says).toContain('move the visit to 11:45')
    const again = await look('clinical')
    expect(again.short).toEqual([chair.short.at(-1)])
  })
})

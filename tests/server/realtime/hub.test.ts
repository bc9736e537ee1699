import pino from 'pino'
import { afterAll, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest'
import { type Database, ENGINES } from '#db/database.ts'
import { readWindow } from '#db/read.ts'
import { type Hub, openHub } from '#server/realtime/hub.ts'
import { must } from '#shared/base/assert.ts'
import { type Day, parseDay } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import type { AppointmentId } from '#shared/ids.ts'
import type { Window } from '#shared/window.ts'
import { addOperatory, foundClinic, inOrder, MORNING, type TestClinic } from '#tests/support/clinic.ts'
import { openFresh } from '#tests/support/database.ts'
import { openScreen, worldAfter } from '#tests/support/screen.ts'

const today = must(parseDay('2026-11-24'), 'a day')
const tomorrow = must(parseDay('2026-11-25'), 'a day')

const book = async (clinic: TestClinic, more: object = {}): Promise<AppointmentId> => {
  const before = new Set((await clinic.world()).appointment.map(({ id }) => id))
  await clinic.done('appointment.book', {
    siteId: clinic.siteId,
    day: today,
    startsAt: '10:00',
    minutes: 60,
    operatoryId: null,
    dentistId: null,
    patient: { kind: 'new', given: 'Ada', family: 'Kerr', born: '1990-04-02' },
    work: ['RCT 36'],
    ...more,
  })
  const { appointment } = await clinic.world()
  return must(
    appointment.find(({ id }) => !before.has(id)),
    'it was booked',
  ).id
}

const move = (clinic: TestClinic, appointmentId: AppointmentId, to: { day: Day; startsAt: string }) =>
  clinic.done('appointment.change', { appointmentId, ...to })

describe.each(ENGINES)('the hub on %s', (engine) => {
  let database: Database
  let hub: Hub
  let clinic: TestClinic
  const day = (of: Day): Window => ({ kind: 'day', siteId: clinic.siteId, day: of })
  const kept = async (window: Window): Promise<{ revision: number; world: World }> => {
    const read = await clinic.in((tx) => readWindow(tx, clinic.clinicId, window))
    return { ...read, world: inOrder(read.world) }
  }

  beforeAll(async () => {
    database = await openFresh(engine)
    hub = await openHub({ database, wall: () => MORNING, log: pino({ level: 'silent' }) })
  })
  beforeEach(async () => {
    clinic = await foundClinic(database)
  })
  afterAll(async () => {
    hub.close()
    await database.close()
  })

  it('brings a change to a screen that shows its day, and to no other', async () => {
    const here = openScreen('clinical')
    const elsewhere = openScreen('clinical')
    const { revision, world } = await hub.snapshot(clinic.clinicId, day(today))
    await hub.join(clinic.clinicId, { window: day(today), since: revision }, here)
    await hub.join(clinic.clinicId, { window: day(tomorrow), since: revision }, elsewhere)
    await book(clinic)
    await vi.waitFor(() => expect(here.heard).toHaveLength(1))
    const held = worldAfter(world, here.heard)
    expect(held && inOrder(held)).toEqual((await kept(day(today))).world)
    expect(elsewhere.heard).toEqual([])
  })

  it('brings a lot that is received or counted to who looks at the stock, and nothing else', async () => {
    const window: Window = { kind: 'stock' }
    const { revision, world } = await hub.snapshot(clinic.clinicId, window)
    const screen = openScreen('clinical')
    await hub.join(clinic.clinicId, { window, since: revision }, screen)
    const lot = { item: 'gloves', name: 'nitrile gloves', lot: 'L1', expires: null, count: 40, reorderAt: 5 }
    await clinic.done('stock.receive', { ...lot, contents: { latex: 'free' } })
    await vi.waitFor(() => expect(screen.heard).toHaveLength(1))
    await book(clinic)
    const stockLineId = must((await clinic.world()).stockLine[0], 'the lot').id
    await clinic.done('stock.count', { stockLineId, count: 39, reorderAt: null })
    await vi.waitFor(() => expect(screen.heard).toHaveLength(2))
    const held = worldAfter(world, screen.heard)
    expect(held && inOrder(held)).toEqual((await kept(window)).world)
    expect(held?.stockLine).toMatchObject([{ lot: 'L1', count: 39 }])
    expect(screen.short).toEqual([])
  })

  it('takes an appointment that moves to another day from one window into the other, with all that hangs on it', async () => {
    const id = await book(clinic)
    const windows = [day(today), day(tomorrow), { kind: 'appointment', appointmentId: id } as const]
    const watching = await Promise.all(
      windows.map(async (window) => {
        const { revision, world } = await hub.snapshot(clinic.clinicId, window)
        const screen = openScreen('clinical')
        await hub.join(clinic.clinicId, { window, since: revision }, screen)
        return { window, world, screen }
      }),
    )
    await move(clinic, id, { day: tomorrow, startsAt: '11:00' })
    for (const { window, world, screen } of watching) {
      await vi.waitFor(() => expect(screen.heard).toHaveLength(1))
      const held = worldAfter(world, screen.heard)
      expect(held && inOrder(held)).toEqual((await kept(window)).world)
    }
  })

  it('gives a screen that comes back what it missed, once and in order', async () => {
    const { revision, world } = await hub.snapshot(clinic.clinicId, day(today))
    const first = openScreen('clinical')
    const leave = await hub.join(clinic.clinicId, { window: day(today), since: revision }, first)
    await book(clinic)
    await vi.waitFor(() => expect(first.heard).toHaveLength(1))
    leave()
    await book(clinic, { startsAt: '11:00' })
    await book(clinic, { startsAt: '12:00' })
    expect(first.heard).toHaveLength(1)
    const again = openScreen('clinical')
    const since = must(first.heard[0], 'it heard one').revision
    await hub.join(clinic.clinicId, { window: day(today), since }, again)
    await book(clinic, { startsAt: '13:00' })
    await vi.waitFor(() => expect(again.heard).toHaveLength(3))
    const held = worldAfter(world, [...first.heard, ...again.heard])
    expect(held && inOrder(held)).toEqual((await kept(day(today))).world)
  })

  it('tells a screen to take a snapshot where what it missed is no longer kept', async () => {
    await book(clinic)
    await hub.snapshot(clinic.clinicId, day(today))
    for (const since of [0, -1, 999]) {
      const screen = openScreen('clinical')
      await hub.join(clinic.clinicId, { window: day(today), since }, screen)
      expect(screen.heard.map(({ name }) => name)).toEqual(['resync'])
    }
  })

  it('sends no event above 64 kB but a resync', async () => {
    const { revision } = await hub.snapshot(clinic.clinicId, day(today))
    const screen = openScreen('clinical')
    await hub.join(clinic.clinicId, { window: day(today), since: revision }, screen)
    const words = Array.from({ length: 12 }, (_, index) => `${index} ${'words '.repeat(80)}`)
    for (let round = 0; round < 1; round += 1) await book(clinic, { work: words, note: 'n'.repeat(2000) })
    await vi.waitFor(() => expect(screen.heard.length).toBeGreaterThan(0))
    for (const { name, data } of screen.heard) {
      const size = Buffer.byteLength(JSON.stringify(data))
      expect(name === 'resync' || size <= 64 * 1024).toBe(true)
    }
  })

  it('sends the desk and the wall judged lanes and no fact', async () => {
    const room = await addOperatory(clinic, 'One')
    await addOperatory(clinic, 'Two')
    const desk = openScreen('desk')
    const wall = openScreen('wall')
    for (const screen of [desk, wall]) {
      await hub.join(clinic.clinicId, { window: day(today), since: 0 }, screen)
      expect(screen.heard).toMatchObject([{ name: 'lanes', data: { lanes: [{}, {}] } }])
    }
    await book(clinic, { operatoryId: room })
    await vi.waitFor(() => expect(desk.heard).toHaveLength(2))
    await vi.waitFor(() => expect(wall.heard).toHaveLength(2))
    expect(desk.heard[1]?.data.lanes?.map(({ operatoryId }) => operatoryId)).toEqual([room])
    const sentToDesk = JSON.stringify(desk.heard)
    const sentToWall = JSON.stringify(wall.heard)
    expect(sentToDesk).toContain('Kerr')
    expect(sentToDesk).not.toContain('allergyFlag')
    for (const secret of ['Kerr', 'RCT', '"36"', 'allergy']) expect(sentToWall).not.toContain(secret)
  })

  it('cuts the streams of a sign-in that ends, and no other', async () => {
    const { revision } = await hub.snapshot(clinic.clinicId, day(today))
    const ended = openScreen('clinical', 'ends')
    const stays = openScreen('clinical', 'stays')
    for (const screen of [ended, stays])
      await hub.join(clinic.clinicId, { window: day(today), since: revision }, screen)
    hub.endSession('ends')
    await book(clinic)
    await vi.waitFor(() => expect(stays.heard).toHaveLength(1))
    expect([ended.ended, ended.heard.length]).toEqual([true, 0])
    expect(stays.ended).toBe(false)
  })

  it('cuts a stream within a heartbeat once its sign-in is revoked elsewhere', async () => {
    const quick = await openHub({
      database,
      wall: () => MORNING,
      log: pino({ level: 'silent' }),
      heartbeatMs: 20,
    })
    const { revision } = await quick.snapshot(clinic.clinicId, day(today))
    const screen = openScreen('clinical')
    await quick.join(clinic.clinicId, { window: day(today), since: revision }, screen)
    await new Promise((resolve) => setTimeout(resolve, 80))
    expect(screen.ended).toBe(false)
    screen.signedIn = false
    await vi.waitFor(() => expect(screen.ended).toBe(true))
    quick.close()
  })

  it('tells the clinic’s clock, also when it is moved', async () => {
    const screen = openScreen('clinical')
    const { revision, at } = await hub.snapshot(clinic.clinicId, day(today))
    await hub.join(clinic.clinicId, { window: day(today), since: revision }, screen)
    await clinic.done('clock.move', { to: MORNING + 90 * 60_000 })
    await vi.waitFor(() => expect(screen.heard).toMatchObject([{ data: { at: MORNING + 90 * 60_000 } }]))
    expect(at).toBe(MORNING)
    expect((await hub.snapshot(clinic.clinicId, day(today))).at).toBe(MORNING + 90 * 60_000)
  })

  it('keeps clinics apart', async () => {
    const other = await foundClinic(database)
    const screen = openScreen('clinical')
    const { revision } = await hub.snapshot(other.clinicId, { kind: 'day', siteId: other.siteId, day: today })
    await hub.join(
      other.clinicId,
      { window: { kind: 'day', siteId: other.siteId, day: today }, since: revision },
      screen,
    )
    await book(clinic)
    await book(other)
    await vi.waitFor(() => expect(screen.heard).toHaveLength(1))
    expect(JSON.stringify(screen.heard)).not.toContain(clinic.clinicId)
  })
})

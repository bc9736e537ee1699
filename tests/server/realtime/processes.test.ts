import pino from 'pino'
import { afterEach, beforeEach, describe, expect, inject, it, vi } from 'vitest'
import type { Database } from '#db/database.ts'
import { openDatabase } from '#db/open.ts'
import { type Hub, openHub } from '#server/realtime/hub.ts'
import { must } from '#shared/base/assert.ts'
import { parseDay } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import type { Window } from '#shared/window.ts'
import { addOperatory, foundClinic, MORNING, type TestClinic } from '#tests/support/clinic.ts'
import { makeDatabase } from '#tests/support/postgres.ts'
import { openScreen, type TestScreen, worldAfter } from '#tests/support/screen.ts'

/** Only a server can be shared by processes; the embedded engine refuses a second one. */
describe('two processes on one PostgreSQL', () => {
  let here: Database
  let there: Database
  let hub: Hub
  let clinic: TestClinic
  let screen: TestScreen
  let before: World
  beforeEach(async () => {
    const url = await makeDatabase(inject('postgres'))
    here = await openDatabase({ url })
    there = await openDatabase({ url })
    hub = await openHub({ database: there, wall: () => MORNING, log: pino({ level: 'silent' }) })
    clinic = await foundClinic(here)
    const day = must(parseDay('2026-11-24'), 'a day')
    const window: Window = { kind: 'day', siteId: clinic.siteId, day }
    const { revision, world } = await hub.snapshot(clinic.clinicId, window)
    before = world
    screen = openScreen('clinical')
    await hub.join(clinic.clinicId, { window, since: revision }, screen)
  })
  afterEach(async () => {
    hub.close()
    await here.close()
    await there.close()
  })

  it('a command in one is on the screens of the other', async () => {
    await addOperatory(clinic, 'One')
    await vi.waitFor(() => expect(screen.heard).toHaveLength(1))
  })

  it('what is committed while the announcing connection is down is told when it is back, once', async () => {
    await here.sql`select pg_terminate_backend(pid) from pg_stat_activity where application_name = 'weirboard hub'
      and datname = current_database()`
    await addOperatory(clinic, 'One')
    await addOperatory(clinic, 'Two')
    // What was missed may come as one event or as two; each revision is told once, and in order.
    await vi.waitFor(() => expect(screen.heard.at(-1)?.revision).toBe(3), { timeout: 20_000 })
    await addOperatory(clinic, 'Three')
    await vi.waitFor(() => expect(screen.heard.at(-1)?.revision).toBe(4), { timeout: 20_000 })
    const revisions = screen.heard.map(({ revision }) => revision)
    expect(revisions).toEqual([...new Set(revisions)].sort((one, other) => one - other))
    const held = must(worldAfter(before, screen.heard), 'no snapshot was asked for')
    expect(held.operatory.map(({ name }) => name).sort()).toEqual(['One', 'Three', 'Two'])
  })

  it('many who claim one tray at once: exactly one has it, the others are told who', async () => {
    const people = 16
    for (let number = 0; number < people; number += 1) {
      await clinic.done('person.add', { name: `A ${number}`, shortName: `A ${number}`, roles: ['assistant'] })
    }
    await clinic.done('appointment.book', {
      siteId: clinic.siteId,
      day: '2026-11-24',
      startsAt: '10:00',
      minutes: 60,
      operatoryId: null,
      dentistId: null,
      patient: { kind: 'new', given: 'Ada', family: 'Kerr', born: '1990-04-02' },
      work: ['RCT 36'],
    })
    const world = await clinic.world()
    const tray = must(world.tray[0], 'a booked root canal has a tray')
    const assistants = world.member.filter(({ roles }) => roles.includes('assistant'))
    const claims = await Promise.all(
      assistants.map(({ id }) => clinic.perform('tray.claim', { trayId: tray.id }, { by: id })),
    )
    expect(claims.filter(({ refused }) => !refused)).toHaveLength(1)
    const owner = (await clinic.world()).tray[0]?.life
    expect(owner).toMatchObject({ kind: 'claimed' })
    for (const claim of claims) {
      if (claim.refused) expect(claim.findings).toMatchObject([{ rule: 'tray/claimed-by-other' }])
    }
  })
})

import fc from 'fast-check'
import pino from 'pino'
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest'
import { type Database, ENGINES } from '#db/database.ts'
import { readRevision, readWindow } from '#db/read.ts'
import { findBreak, readEntries } from '#server/commands/journal.ts'
import { type Hub, openHub } from '#server/realtime/hub.ts'
import { must } from '#shared/base/assert.ts'
import { parseDay } from '#shared/base/moment.ts'
import { applyChange } from '#shared/change.ts'
import { planFor } from '#shared/isolation/plan-for.ts'
import { isOver } from '#shared/schedule/appointment.ts'
import type { Window } from '#shared/window.ts'
import { foundClinic, inOrder, MORNING, type TestClinic } from '#tests/support/clinic.ts'
import { openFresh } from '#tests/support/database.ts'
import { furnish, histories, play } from '#tests/support/histories.ts'
import { openScreen, worldAfter } from '#tests/support/screen.ts'

const RUNS = 12
const today = must(parseDay('2026-11-24'), 'a day')
const tomorrow = must(parseDay('2026-11-25'), 'a day')

/** The laws of the pipeline, in random histories of real commands (fast-check prints seed and shrunk history). */
describe.each(ENGINES)('in every history on %s', (engine) => {
  let database: Database
  let hub: Hub
  beforeAll(async () => {
    database = await openFresh(engine)
    hub = await openHub({ database, wall: () => MORNING, log: pino({ level: 'silent' }) })
  })
  afterAll(async () => {
    hub.close()
    await database.close()
  })

  const ofEach = (
    check: (
      clinic: TestClinic,
      by: Awaited<ReturnType<typeof furnish>>,
      acts: Parameters<typeof play>[1]['acts'],
    ) => Promise<void>,
  ) =>
    fc.assert(
      fc.asyncProperty(histories, async (acts) => {
        const clinic = await foundClinic(database)
        await check(clinic, await furnish(clinic), acts)
      }),
      { numRuns: RUNS, interruptAfterTimeLimit: 100_000, markInterruptAsFailure: true },
    )

  it('saving a change and applying it in memory end in the same world', () =>
    ofEach(async (clinic, by, acts) => {
      await play(clinic, {
        by,
        acts,
        after: async ({ before, performed }) => {
          const inMemory = performed.refused ? before : applyChange(before, performed.change)
          expect(inOrder(await clinic.world())).toEqual(inOrder(inMemory))
        },
      })
    }))

  it('a refused command moves neither facts nor revision', () =>
    ofEach(async (clinic, by, acts) => {
      let revision = await clinic.in((tx) => readRevision(tx, clinic.clinicId))
      await play(clinic, {
        by,
        acts,
        after: async ({ before, performed }) => {
          const now = await clinic.in((tx) => readRevision(tx, clinic.clinicId))
          if (performed.refused) {
            expect(now).toBe(revision)
            expect(inOrder(await clinic.world())).toEqual(inOrder(before))
          }
          revision = now
        },
      })
    }))

  it('the stored plan equals the plan computed from the world', () =>
    ofEach(async (clinic, by, acts) => {
      await play(clinic, { by, acts })
      const world = await clinic.world()
      for (const { id, status } of world.appointment) {
        if (isOver(status)) continue
        const stored = world.plan.find((plan) => plan.appointmentId === id)
        expect(stored?.digest).toEqual(planFor(world, id)?.version)
      }
    }))

  it('a word that has lapsed stays lapsed as it was, and a plan number never falls', () =>
    ofEach(async (clinic, by, acts) => {
      await play(clinic, {
        by,
        acts,
        after: async ({ before }) => {
          const { word, plan } = await clinic.world()
          const appointments = new Set((await clinic.world()).appointment.map(({ id }) => id))
          for (const stood of before.word) {
            if (stood.life.kind === 'live' || !appointments.has(stood.appointmentId)) continue
            expect(word.find(({ id }) => id === stood.id)).toEqual(stood)
          }
          for (const stood of before.plan) {
            if (!appointments.has(stood.appointmentId)) continue
            const now = plan.find(({ id }) => id === stood.id)
            expect(now?.number).toBeGreaterThanOrEqual(stood.number)
          }
        },
      })
    }))

  it('snapshot and events make the later snapshot, in every window', () =>
    ofEach(async (clinic, by, acts) => {
      const half = Math.floor(acts.length / 2)
      await play(clinic, { by, acts: acts.slice(0, half) })
      const first = (await clinic.world()).appointment[0]
      const { siteId } = clinic
      const days: Window[] = [
        { kind: 'day', siteId, day: today },
        { kind: 'day', siteId, day: tomorrow },
        { kind: 'sterility', siteId, day: today },
      ]
      const windows: Window[] = first ? [...days, { kind: 'appointment', appointmentId: first.id }] : days
      const watching = await Promise.all(
        windows.map(async (window) => {
          const { revision, world } = await hub.snapshot(clinic.clinicId, window)
          const screen = openScreen('clinical')
          const leave = await hub.join(clinic.clinicId, { window, since: revision }, screen)
          return { window, revision, world, screen, leave }
        }),
      )
      await play(clinic, { by, acts: acts.slice(half) })
      for (const { window, world, screen, leave } of watching) {
        const kept = inOrder((await clinic.in((tx) => readWindow(tx, clinic.clinicId, window))).world)
        await vi.waitFor(() => {
          const held = worldAfter(world, screen.heard)
          if (held !== null) expect(inOrder(held)).toEqual(kept)
        })
        const revisions = screen.heard.map((event) => event.revision)
        expect(revisions).toEqual([...new Set(revisions)].sort((a, b) => a - b))
        leave()
      }
    }))

  it('the journal tells the whole history: backwards it ends in an empty clinic, and its chain holds', () =>
    ofEach(async (clinic, by, acts) => {
      await play(clinic, { by, acts })
      const entries = await clinic.in((tx) => readEntries(tx, clinic.clinicId, { after: 0 }))
      expect(findBreak(entries)).toBeNull()
      let world = await clinic.world()
      for (const { content } of [...entries].reverse()) {
        world = applyChange(world, must(content, 'nothing was blanked').before)
      }
      expect(Object.values(world).flat()).toEqual([])
    }))
})

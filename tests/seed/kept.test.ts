import { randomUUID } from 'node:crypto'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { asClinic } from '#db/as-clinic.ts'
import type { Database } from '#db/database.ts'
import { readWindow } from '#db/read.ts'
import { DEMO_MOMENT } from '#seed/acts.ts'
import { DEMO_DAY } from '#seed/clinic.ts'
import { INVENTED_FOUNDER, performInMemory, seedInventedClinic } from '#seed/run.ts'
import type { Perform } from '#seed/telling.ts'
import { perform } from '#server/commands/perform.ts'
import { must } from '#shared/base/assert.ts'
import type { World } from '#shared/facts.ts'
import type { ClinicId, CommandId, MemberId } from '#shared/ids.ts'
import { boardFor } from '#shared/readiness/board.ts'
import type { BoardLine } from '#shared/readiness/board-types.ts'
import { openFresh } from '#tests/support/database.ts'

/** A board without its ids: what a person would read off it. */
function readOff(world: World) {
  const siteId = must(world.site[0], 'there is a site').id
  const line = (one: BoardLine | null) =>
    one && {
      patient: one.patient,
      stage: one.stage,
      state: one.state,
      missing: one.missing?.rule ?? null,
      planks: one.planks.map(({ check, state, done, of }) => `${check} ${state} ${done}/${of}`),
      expected: one.expectedStart,
    }
  return boardFor(world, { siteId, day: DEMO_DAY, now: DEMO_MOMENT }).lanes.map(
    ({ name, room, now, next }) => ({
      name,
      room,
      now: line(now),
      next: next.map(line),
    }),
  )
}

describe('the invented clinic, kept', () => {
  const clinicId = randomUUID() as ClinicId
  let database: Database
  let kept: World
  let told: World

  beforeAll(async () => {
    database = await openFresh('pglite')
    const ask: Perform = async ({ at, ...asked }) => {
      const command = { ...asked, id: randomUUID() as CommandId, sawRevision: 0, madeAt: at }
      const performed = await perform({ database, wall: Date.now }, { clinicId, command, at })
      if (performed.refused) throw new Error(`${asked.kind}: ${JSON.stringify(performed)}`)
      return performed.change
    }
    const { world } = await seedInventedClinic(ask, randomUUID() as MemberId)
    const siteId = must(world.site[0], 'there is a site').id
    const window = { kind: 'day', siteId, day: DEMO_DAY } as const
    kept = (await asClinic(database, clinicId, (tx) => readWindow(tx, clinicId, window), 'read')).world
    told = (await seedInventedClinic(performInMemory(), INVENTED_FOUNDER)).world
  })
  afterAll(() => database.close())

  test('what a screen is sent of it reads as the same day told in memory: each command reached all it needed', () => {
    expect(readOff(kept)).toEqual(readOff(told))
  })

  test('a screen of the day is sent no tray lines, and the same sixty appointments', () => {
    expect(kept.trayLine).toEqual([])
    expect(kept.appointment).toHaveLength(60)
  })
})

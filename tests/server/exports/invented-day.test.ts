import { describe, expect, it } from 'vitest'
import { DEMO_DAY, DEMO_ZONE } from '#seed/clinic.ts'
import { INVENTED_FOUNDER, performInMemory, SEED, STORY } from '#seed/run.ts'
import { type Step, startTelling, tell } from '#seed/telling.ts'
import { makeCsv } from '#server/exports/csv.ts'
import { makeFhirBundle } from '#server/exports/fhir.ts'
import { makeICalendar } from '#server/exports/icalendar.ts'
import type { World } from '#shared/facts.ts'
import { effect, importFile, MORNING } from '../imports/small-clinic.ts'

async function told(steps: readonly Step[]): Promise<World> {
  const perform = performInMemory()
  const telling = startTelling(INVENTED_FOUNDER)
  for (const step of steps) await tell(telling, step, perform)
  return perform.world()
}
const dayOf = (world: World): World => ({
  ...world,
  appointment: world.appointment.filter(({ day }) => day === DEMO_DAY),
})
const FORMATS: [name: string, make: (world: World) => string][] = [
  ['day.csv', makeCsv],
  ['day.fhir.json', (world) => JSON.stringify(makeFhirBundle(world, { now: MORNING, zone: DEMO_ZONE }))],
  [
    'day.ics',
    (world) =>
      makeICalendar(world, {
        name: 'Day',
        detail: true,
        versionOf: () => ({ sequence: 3, at: MORNING }),
        departed: [],
      }),
  ],
]

// COMMON: what we gave says nothing that we do not know.
describe.each([
  ['as it begins', SEED, 'vanished'],
  ['as it ends', STORY, 'finished'],
] as const)('the invented day %s, brought back', (_, steps, among) => {
  it.each(FORMATS)('as %s changes nothing and asks nothing', async (__, make) => {
    const world = await told(steps)
    const day = dayOf(world)
    expect(day.appointment.length).toBeGreaterThan(20)
    const kinds = day.appointment.map(({ vanished, status }) =>
      vanished ? 'vanished' : status === 'fulfilled' ? 'finished' : 'other',
    )
    expect(kinds).toContain(among)
    const again = importFile(world, make(day), { zone: DEMO_ZONE })
    expect(again.counts).toMatchObject({
      new: 0,
      changed: 0,
      cancelled: 0,
      unchanged: day.appointment.length,
      vanished: 0,
      problems: 0,
    })
    // The source is called otherwise there.
    expect(effect(again).filter((name) => name !== 'importSource')).toEqual([])
  })
})

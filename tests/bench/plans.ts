import { must } from '#shared/base/assert.ts'
import { planIsolation } from '#shared/isolation/plan.ts'
import { requestFor } from '#shared/isolation/plan-for.ts'
import { takeSnapshot } from './board-snapshot.ts'
import { atLeast, type Reading } from './figures.ts'
import type { Stand } from './stand.ts'

const WARM_UP_MS = 1_000
const FOR_MS = 3_000
const AT_ONCE = 200

/** Whole isolation plans a second in this thread, over the requests of a day in turn. */
export async function measurePlans(stand: Stand): Promise<Reading[]> {
  const { world } = await takeSnapshot(stand)
  const requests = world.appointment.map((appointment) => requestFor(world, appointment))
  const isolated = requests.filter((request) => planIsolation(request).agreed.sheets.length > 0).length
  let next = 0
  /** Plans for a second of this process's own time: what others take of a shared machine does not count. */
  const run = (forMs: number): number => {
    const began = performance.now()
    const before = process.cpuUsage()
    let planned = 0
    while (performance.now() - began < forMs) {
      for (let turn = 0; turn < AT_ONCE; turn += 1) {
        planIsolation(must(requests[next], 'a request of the day'))
        next = (next + 1) % requests.length
      }
      planned += AT_ONCE
    }
    const { user, system } = process.cpuUsage(before)
    return (planned * 1_000_000) / (user + system)
  }
  run(WARM_UP_MS)
  return [
    atLeast(
      {
        figure: 'isolation plans on one core, by its own time',
        unit: 'a second',
        ours: run(FOR_MS),
        behind: { requests: requests.length, 'with a dam': isolated },
      },
      20_000,
    ),
  ]
}

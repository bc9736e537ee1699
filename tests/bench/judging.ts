import type { Browser } from '@playwright/test'
import type { World } from '#shared/facts.ts'
import { takeSnapshot } from './board-snapshot.ts'
import { openBrowser, scriptOf } from './browser.ts'
import { atMost, p50, type Reading } from './figures.ts'
import type { Stand } from './stand.ts'

/** The slowness of a cheap tablet, as the browser's own tools name it. */
const SLOWED = 4
const PAGES = 9
/** What one fresh page took, in ms. */
export interface BenchJudging {
  first: number
  after: number[]
  lanes: number
}

/** A page that has never run the rules before, in a process of its own. */
async function judgeOnFreshPage(
  browser: Browser,
  { script, world, now }: { script: string; world: World; now: number },
): Promise<BenchJudging> {
  const context = await browser.newContext()
  const page = await context.newPage()
  const devtools = await context.newCDPSession(page)
  await devtools.send('Emulation.setCPUThrottlingRate', { rate: SLOWED })
  await page.addScriptTag({ content: script })
  const judged = await page.evaluate(([given, at]) => window.judgeDay(given, at), [world, now] as const)
  await context.close()
  return judged
}

/** A day of a hundred appointments judged in a browser slowed four times: from nothing, and after one change. */
export async function measureJudging(stand: Stand): Promise<Reading[]> {
  const { world, at } = await takeSnapshot(stand)
  const script = await scriptOf('judging-page.ts')
  const browser = await openBrowser()
  const judged: BenchJudging[] = []
  for (let turn = 0; turn < PAGES; turn += 1) {
    judged.push(await judgeOnFreshPage(browser, { script, world, now: at }))
  }
  await browser.close()
  const behind = { pages: PAGES, 'script, bytes': script.length, appointments: world.appointment.length }
  return [
    atMost(
      {
        figure: `judging ${world.appointment.length} appointments in a browser slowed ${SLOWED} ×, first`,
        unit: 'ms',
        ours: p50(judged.map(({ first }) => first)),
        behind,
      },
      30,
    ),
    atMost(
      {
        figure: 'the same after one change',
        unit: 'ms',
        ours: p50(judged.flatMap(({ after }) => after)),
        behind,
      },
      2,
    ),
  ]
}

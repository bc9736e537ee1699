import type { Day } from '../base/moment.ts'
import type { MouthChart } from '../teeth/mouth-chart.ts'
import type { Tooth } from '../teeth/tooth.ts'
import type { IsolationNote } from './findings.ts'
import type { AsPlaced } from './isolation-facts.ts'

/** A sheet that this patient wore at an earlier visit, and the day of that visit. */
export interface PastPlacing extends AsPlaced {
  day: Day
}

/** Newest first. */
export const byNewest = (past: readonly PastPlacing[]): PastPlacing[] => [...past].sort((a, b) => b.at - a.at)

/** A gum that was marked or injured when a clamp last came off it is told where one is to sit again. */
export const judgeClampSites = (
  sites: MouthChart['clampSites'] | undefined,
  clamped: readonly Tooth[],
): IsolationNote[] =>
  [...new Set(clamped)].flatMap((tooth): IsolationNote[] => {
    const site = sites?.[tooth]
    return site && site.gum !== 'sound'
      ? [
          {
            rule: 'anchor/gum-before',
            level: 'note',
            about: `tooth:${tooth}`,
            tooth,
            day: site.day,
            gum: site.gum,
          },
        ]
      : []
  })

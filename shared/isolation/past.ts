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

/** What earlier clamps left behind where one is to sit again: a gum that was hurt, a tooth that was passed over. */
export const judgeClampSites = (
  sites: MouthChart['clampSites'] | undefined,
  clamped: readonly Tooth[],
): IsolationNote[] =>
  [...new Set(clamped)].flatMap((tooth): IsolationNote[] => {
    const site = sites?.[tooth]
    if (!site) return []
    const { gum, instead, day } = site
    const about = `tooth:${tooth}`
    return [
      ...(gum === 'marked' || gum === 'injured'
        ? [{ rule: 'anchor/gum-before' as const, level: 'note' as const, about, tooth, day, gum }]
        : []),
      ...(instead
        ? [{ rule: 'anchor/passed-over-before' as const, level: 'note' as const, about, tooth, day, instead }]
        : []),
    ]
  })

import type { Day } from '../base/moment.ts'
import type { Tooth } from '../teeth/tooth.ts'
import type { IsolationNote } from './findings.ts'
import type { AsPlaced } from './isolation-facts.ts'

/** A sheet that this patient wore at an earlier visit, and the day of that visit. */
export interface PastPlacing extends AsPlaced {
  day: Day
}

/** Newest first. */
export const byNewest = (past: readonly PastPlacing[]): PastPlacing[] => [...past].sort((a, b) => b.at - a.at)

/**
 * What earlier clamps left behind where one is to sit again: for each tooth the last visit that clamped it counts,
 * and a gum that was marked or injured there is told. A gum nobody looked at says nothing.
 */
export function judgePast(past: readonly PastPlacing[], clamped: readonly Tooth[]): IsolationNote[] {
  return [...new Set(clamped)].flatMap((tooth): IsolationNote[] => {
    const last = byNewest(past).find(
      ({ clamps, outcome }) => outcome.gum !== 'not-looked' && clamps.some((clamp) => clamp.tooth === tooth),
    )
    const gum = last?.outcome.gum
    return last && (gum === 'marked' || gum === 'injured')
      ? [{ rule: 'anchor/gum-before', level: 'note', about: `tooth:${tooth}`, tooth, day: last.day, gum }]
      : []
  })
}

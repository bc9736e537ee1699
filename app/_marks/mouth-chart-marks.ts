import type { ToothCondition } from '#shared/teeth/mouth-chart.ts'

/** A small drawing for each condition in a box of 12, and its words. A mark is never told by colour. */
export const CONDITION_MARKS: Record<ToothCondition, { words: string; path: string; isSolid?: true }> = {
  present: { words: 'present', path: 'M2 6.5L5 10L10.5 2' },
  missing: { words: 'missing', path: 'M2 2L10 10M10 2L2 10' },
  unerupted: { words: 'not erupted', path: 'M1 8q2.5-5 5 0t5 0M6 2v3' },
  'partly-erupted': { words: 'partly erupted', path: 'M.5 8.5H11.5M3 8.5V5a3 3 0 0 1 6 0V8.5' },
  'ceramic-crown': { words: 'ceramic crown', path: 'M6 1a5 5 0 1 0 .01 0M6 4a2 2 0 1 0 .01 0' },
  'metal-crown': { words: 'metal crown', path: 'M6 1a5 5 0 1 0 .01 0Z', isSolid: true },
  pontic: { words: 'pontic', path: 'M0 6H12M3.5 2.5h5v7h-5Z' },
  abutment: { words: 'carries a bridge', path: 'M0 4H12M3.5 4V11.5M8.5 4V11.5' },
  implant: { words: 'implant', path: 'M4 .5H8L7 11.5H5ZM2.5 4H9.5M3 7.5H9' },
  bracketed: { words: 'bracket and wire', path: 'M0 6H12M4 3h4v6H4Z' },
  banded: { words: 'banded', path: 'M1 4H11M1 8H11M1 4V8M11 4V8' },
  'broken-down': { words: 'broken down', path: 'M.5 3L3.5 8L6 3.5L8.5 9L11.5 4' },
  mobile: { words: 'mobile', path: 'M.5 6H11.5M3 3.5L.5 6L3 8.5M9 3.5L11.5 6L9 8.5' },
  malposed: { words: 'out of line', path: 'M2 9.5a4.5 4.5 0 1 1 8 0M10.4 6.4L10 9.5L7 9' },
}

/** Of what is not there nothing else can be said. */
const NOT_THERE: readonly ToothCondition[] = ['missing', 'unerupted', 'pontic']
export const isNotThere = (conditions: readonly ToothCondition[]): boolean =>
  conditions.some((condition) => NOT_THERE.includes(condition))

/** What a tooth's entry becomes when one condition is touched: on or off, and not there stands alone. */
export function touchCondition(stood: readonly ToothCondition[], touched: ToothCondition): ToothCondition[] {
  if (stood.includes(touched)) return stood.filter((each) => each !== touched)
  if (NOT_THERE.includes(touched)) return [touched]
  return [...stood.filter((each) => !NOT_THERE.includes(each)), touched]
}

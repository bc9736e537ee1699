import { memory, read, type Source } from '../base/source.ts'
import { type Agent, isOnlyTopical } from './anaesthetic.ts'

/** Youngest age in whole years at which an agent's label speaks. */
export const YOUNGEST: Partial<Record<Agent, { years: number; source: Source }>> = {
  articaine: { years: 4, source: read('US label, articaine 4 % with epinephrine: 4 years and over') },
  benzocaine: {
    years: 2,
    source: memory('FDA safety communication 2018: methaemoglobinaemia; not under 2 years'),
  },
  bupivacaine: { years: 12, source: read('P&G CE646: not advised under 12 years') },
}

/** What a patient may have that an agent's label bars. */
export const BARS = ['sulfite', 'methaemoglobinaemia', 'amide-allergy', 'ester-allergy'] as const
export type Bar = (typeof BARS)[number]

/**
 * Sulfites stand in every cartridge with a catecholamine; prilocaine is barred in methaemoglobinaemia; an allergy bars
 * its own family. (Esters: Speca, Boynes, Cuddy, Dent Clin N Am 2010; READ.)
 */
export function isBarred(solution: { agent: Agent; vasoconstrictor: string }, bar: Bar): boolean {
  if (bar === 'sulfite')
    return solution.vasoconstrictor === 'epinephrine' || solution.vasoconstrictor === 'levonordefrin'
  if (bar === 'methaemoglobinaemia') return solution.agent === 'prilocaine'
  return isOnlyTopical(solution.agent) === (bar === 'ester-allergy')
}

/** Unknown, this bar leaves a whole agent unchecked: prilocaine is the one that only this condition bars. */
export const mustBeSaid = (agent: Agent, bar: Bar): boolean =>
  agent === 'prilocaine' && bar === 'methaemoglobinaemia'

/** Heavier than anyone: what is over even for this weight is over for every patient. */
export const HEAVIEST_GRAMS = 400_000

/**
 * Weights, in kilograms, beyond which a slip of unit or digit is likelier than the weight. From 1 to 13 years the upper
 * end is the 97th percentile at the next birthday, of boys or girls, whichever is more: the pounds of a child in the
 * middle lie beyond it at every age. The rest is COMMON.
 */
const PLAUSIBLE: readonly { underYears: number; from: number; to: number }[] = [
  { underYears: 1, from: 2, to: 15 },
  { underYears: 2, from: 5, to: 16 },
  { underYears: 3, from: 7, to: 18 },
  { underYears: 4, from: 7, to: 22 },
  { underYears: 5, from: 8, to: 25 },
  { underYears: 6, from: 9, to: 29 },
  { underYears: 7, from: 10, to: 34 },
  { underYears: 8, from: 10, to: 39 },
  { underYears: 9, from: 12, to: 45 },
  { underYears: 10, from: 12, to: 52 },
  { underYears: 11, from: 14, to: 59 },
  { underYears: 12, from: 14, to: 66 },
  { underYears: 13, from: 14, to: 73 },
  { underYears: 14, from: 20, to: 78 },
  { underYears: 18, from: 20, to: 110 },
  { underYears: 250, from: 25, to: 400 },
]
export const PLAUSIBLE_WEIGHT_SOURCE = read('CDC growth charts 2000: weight for age, 97th percentile')

/** Whether a weight in grams can be that of someone of this age. */
export function isPlausibleWeight(weight: number, ageYears: number): boolean {
  const row = PLAUSIBLE.find(({ underYears }) => ageYears < underYears)
  return row !== undefined && weight >= row.from * 1000 && weight <= row.to * 1000
}

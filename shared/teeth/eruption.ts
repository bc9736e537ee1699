import { type Mark, memory, read, type Source } from '../base/source.ts'
import { type Arch, archOf, dentitionOf, positionOf, type Tooth } from './tooth.ts'

/** When a tooth is expected: whole months of age, from the earliest to the latest printed figure. */
export interface Eruption {
  earliest: number
  latest: number
  /** Primary teeth: age in months at which they are shed; null for permanent teeth. */
  shed: { earliest: number; latest: number } | null
  source: Source
}

const CHART = 'ADA tooth eruption charts'
const years = (from: number, to: number): [number, number] => [from * 12, to * 12]
const row = (
  [earliest, latest]: [number, number],
  shed: [number, number] | null = null,
  mark: Mark = 'READ',
): Eruption => ({
  earliest,
  latest,
  shed: shed && { earliest: shed[0], latest: shed[1] },
  source: mark === 'READ' ? read(CHART) : memory(CHART),
})

/** By arch, then by position from the midline. */
export const PERMANENT_ERUPTION: Record<Arch, readonly Eruption[]> = {
  upper: [
    row(years(7, 8)),
    row(years(8, 9)),
    row(years(11, 12)),
    row(years(10, 11)),
    row(years(10, 12)),
    row(years(6, 7)),
    row(years(12, 13)),
    row(years(17, 21)),
  ],
  lower: [
    row(years(6, 7)),
    row(years(7, 8)),
    row(years(9, 10)),
    row(years(10, 12)),
    row(years(11, 12)),
    row(years(6, 7)),
    row(years(11, 13)),
    row(years(17, 21)),
  ],
}
export const PRIMARY_ERUPTION: Record<Arch, readonly Eruption[]> = {
  upper: [
    row([8, 12], years(6, 7)),
    row([9, 13], years(7, 8)),
    row([16, 22], years(10, 12)),
    row([13, 19], years(9, 11)),
    row([25, 33], years(10, 12)),
  ],
  lower: [
    row([6, 10], years(6, 7)),
    row([10, 16], years(7, 8)),
    // One reprint gives 10–12 years for shedding, another 9–12: the wider is kept, as it only warns.
    row([17, 23], years(9, 12)),
    row([14, 18], years(9, 11)),
    // One reprint gives 21–31 months; Lunt & Law 1974 and another reprint give 23–31.
    row([23, 31], years(10, 12)),
  ],
}

/** The printed ages of a tooth. A child differs from the print: these warn and never forbid. */
export function eruptionOf(tooth: Tooth): Eruption {
  const table = dentitionOf(tooth) === 'permanent' ? PERMANENT_ERUPTION : PRIMARY_ERUPTION
  const found = table[archOf(tooth)][positionOf(tooth) - 1]
  if (!found) throw new Error(`Bug: no eruption age for tooth ${tooth}`)
  return found
}

/** Whether a tooth is expected to stand by the latest printed figure; age in whole years. */
export const isDue = (tooth: Tooth, ageYears: number): boolean => ageYears * 12 >= eruptionOf(tooth).latest

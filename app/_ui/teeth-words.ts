import { makePalmer, makeUniversal, nameTooth } from '#shared/teeth/notation.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'

/** A tooth as this clinic numbers it; ISO 3950 where it has not said. */
export function toothIn(tooth: Tooth, notation: Notation): string {
  if (notation === 'universal') return makeUniversal(tooth)
  return notation === 'palmer' ? makePalmer(tooth) : tooth
}

/** The same teeth in a second notation, named, so that a slip between the two is seen. */
export const otherNotation = (teeth: readonly Tooth[], notation: Notation): string =>
  notation === 'universal' ? `ISO ${teeth.join(' ')}` : `Univ ${teeth.map(makeUniversal).join(' ')}`

/** `lower right first molar`, several joined by commas. */
export const wordsFor = (teeth: readonly Tooth[]): string => teeth.map(nameTooth).join(', ')

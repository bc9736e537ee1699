import type { IncomingTooth, IncomingWork } from '#shared/schedule/incoming.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'
import { type Mention, parseTeeth } from '#shared/teeth/parse-teeth.ts'
import type { Surface } from '#shared/teeth/tooth.ts'
import { isSurface } from './teeth.ts'

/** What a source says of one line of work, each in its own words; empty where it says nothing. */
export interface Said {
  work: string
  tooth: string
  surfaces: string
}

/** One line of work from words, tooth and surfaces that a source gives apart; null where it says nothing. */
export function readWorkLine({ work, tooth, surfaces }: Said, notation: Notation): IncomingWork | null {
  const teeth = parseTeeth(tooth, notation).mentions
  const inWords = parseTeeth(work, notation).mentions
  // Where the words name a tooth or a side too, the two stand apart and are compared.
  const apart = inWords.length > 0 ? clearTeeth(teeth, notation) : []
  const isRepeated = inWords.some(({ text }) => text === tooth || text.startsWith(`${tooth} `))
  const beside = joinCells(isRepeated ? '' : tooth, hasWord(work, surfaces) ? '' : surfaces, teeth)
  const parted = apart.length > 0 && !isRepeated ? '; ' : ' '
  const text = oneLine([work, beside].filter((part) => part !== '').join(parted))
  return text === '' ? null : { text, teeth: apart, surfaces: surfacesOf(surfaces) }
}

const oneLine = (text: string): string => text.replace(/\s+/g, ' ').trim()

const hasWord = (text: string, word: string): boolean =>
  text.split(/[^\p{L}\p{N}]+/u).some((each) => each === word)

/**
 * `36, 37` and `MO, DO`: where there are as many of one as of the other they go together in their order; else whose
 * surfaces they are is left open, and they stand apart from the last tooth.
 */
function joinCells(tooth: string, surfaces: string, teeth: readonly Mention[]): string {
  const sets = surfaces.split(/[\s,;/&+|]+/).filter((set) => set !== '')
  const letters = sets.every(areSurfaces) ? surfaces.toUpperCase() : surfaces
  const isSeveral = teeth.length > 1 || teeth.some(({ teeth: { length } }) => length > 1)
  if (tooth === '' || sets.length === 0 || !isSeveral) return [tooth, letters].join(' ').trim()
  return teeth.length === sets.length && teeth.every(isOne) && sets.every(areSurfaces)
    ? teeth.map(({ text }, index) => `${text} ${sets[index]?.toUpperCase()}`).join(', ')
    : `${tooth}; ${letters}`
}

const isOne = ({ result, teeth, surfaces }: Mention): boolean =>
  result === 'tooth' && teeth.length === 1 && surfaces.length === 0

const lettersOf = (text: string): string[] =>
  text
    .toUpperCase()
    .replace(/[^A-Z]/g, '')
    .split('')
const areSurfaces = (text: string): boolean => lettersOf(text).every(isSurface)
export const surfacesOf = (text: string): Surface[] =>
  areSurfaces(text) ? [...new Set(lettersOf(text))].filter(isSurface) : []

const clearTeeth = (teeth: readonly Mention[], notation: Notation): IncomingTooth[] =>
  teeth.flatMap(({ text, result, teeth: named }) =>
    result === 'tooth' ? named.map((tooth) => ({ text, notation, candidates: [tooth] })) : [],
  )

import { findInQuadrant, isQuadrant, nameTooth, QUADRANTS } from './notation.ts'
import {
  type Arch,
  archOf,
  type Dentition,
  dentitionOf,
  isAnterior,
  isThirdMolar,
  type Side,
  sideOf,
  TEETH,
  type Tooth,
} from './tooth.ts'

/** What a run of words says of a tooth; null where it says nothing of that. */
export interface ToothWords {
  arch: Arch | null
  side: Side | null
  dentition: Dentition | null
  /** Words of a tooth's own name: `first molar`, `central`. */
  name: readonly string[]
}
export const NO_WORDS: ToothWords = { arch: null, side: null, dentition: null, name: [] }

const ARCHES: Record<string, Arch> = {
  upper: 'upper',
  maxillary: 'upper',
  top: 'upper',
  lower: 'lower',
  mandibular: 'lower',
  bottom: 'lower',
}
const SIDES: Record<string, Side> = { right: 'right', rt: 'right', left: 'left', lt: 'left' }
const DENTITIONS: Record<string, Dentition> = {
  primary: 'primary',
  deciduous: 'primary',
  baby: 'primary',
  milk: 'primary',
  permanent: 'permanent',
  adult: 'permanent',
}
const NAMES: Record<string, string> = {
  first: 'first',
  '1st': 'first',
  second: 'second',
  '2nd': 'second',
  third: 'third',
  '3rd': 'third',
  molar: 'molar',
  premolar: 'premolar',
  'pre-molar': 'premolar',
  bicuspid: 'premolar',
  canine: 'canine',
  cuspid: 'canine',
  central: 'central',
  lateral: 'lateral',
  incisor: 'incisor',
  wisdom: 'wisdom',
  eye: 'canine',
  front: 'front',
  anterior: 'front',
}
/** Words that name a tooth only before the word itself: `eye tooth`, `front teeth`. */
const BEFORE_TOOTH: readonly string[] = ['eye', 'front', 'anterior']
export const TOOTH_WORDS: readonly string[] = [
  ...Object.keys(ARCHES),
  ...Object.keys(SIDES),
  ...Object.keys(DENTITIONS),
  ...Object.keys(NAMES).map((name) =>
    BEFORE_TOOTH.includes(name)
      ? String.raw`${name}(?=\s(?:tooth|teeth)|(?<=anterior)s)`
      : name === 'molar'
        ? String.raw`molar(?!s?\sbands?)`
        : name,
  ),
]

/** What a list of words from `TOOTH_WORDS`, or quadrants in capitals, says. */
export function readWords(words: readonly string[]): ToothWords {
  let read = NO_WORDS
  for (const word of words) read = { ...read, ...readWord(word, read) }
  return read
}

function readWord(word: string, read: ToothWords): Partial<ToothWords> {
  const named = word.toUpperCase()
  if (isQuadrant(named)) return readQuadrant(named)
  const counted = QUADRANTS[Number(word) - 1]
  if (counted !== undefined) return readQuadrant(counted)
  const lower = word.toLowerCase()
  const name = NAMES[lower]
  if (name !== undefined) return { name: [...read.name, name] }
  const dentition = DENTITIONS[lower]
  if (dentition !== undefined) return { dentition }
  const [arch, side] = [ARCHES[lower], SIDES[lower]]
  return arch ? { arch } : side ? { side } : {}
}

const readQuadrant = (word: string): Partial<ToothWords> => ({
  arch: word.startsWith('U') ? 'upper' : 'lower',
  side: word.endsWith('R') ? 'right' : 'left',
})

/** Whether two runs of words place a tooth differently. */
export const contradict = (one: ToothWords, other: ToothWords): boolean =>
  (one.arch !== null && other.arch !== null && one.arch !== other.arch) ||
  (one.side !== null && other.side !== null && one.side !== other.side)

/** Whether a word begins another tooth: it contradicts a run of words, or says once more what that has said. */
export function opensAnother(word: string, read: ToothWords, isParted: boolean): boolean {
  const more = readWords([word])
  const isPlacedAgain =
    (more.arch !== null && read.arch !== null) || (more.side !== null && read.side !== null)
  const isNamedAgain = more.name.length > 0 && hasKind(read)
  if (contradict(more, read)) return true
  return isPlacedAgain ? isParted || hasKind(read) : isParted && isNamedAgain
}

const ORDINALS: readonly string[] = ['first', 'second', 'third']
const hasKind = (words: ToothWords): boolean => words.name.some((name) => !ORDINALS.includes(name))

/** Whether the words say anything that a tooth could contradict. */
export const saysSomething = (words: ToothWords): boolean =>
  words.arch !== null || words.side !== null || words.dentition !== null || hasKind(words)

/** Whether a tooth is one the words can mean. */
export function agreesWith(tooth: Tooth, words: ToothWords): boolean {
  if (words.arch !== null && archOf(tooth) !== words.arch) return false
  if (words.side !== null && sideOf(tooth) !== words.side) return false
  if (words.dentition !== null && dentitionOf(tooth) !== words.dentition) return false
  if (!hasKind(words)) return true
  const own = [
    ...nameTooth(tooth).split(' '),
    ...(isThirdMolar(tooth) ? ['wisdom'] : []),
    ...(isAnterior(tooth) ? ['front'] : []),
  ]
  return words.name.every((name) => own.includes(name))
}

/** The teeth the words can mean by their name, wherever they leave arch or side open; unsaid is permanent. */
export const teethOfName = (words: ToothWords): Tooth[] =>
  hasKind(words)
    ? TEETH.filter((tooth) => agreesWith(tooth, { ...words, dentition: words.dentition ?? 'permanent' }))
    : []

/** The one tooth the words can mean, where they name arch, side and kind; an unsaid dentition is the permanent one. */
export function teethOfWords(words: ToothWords): Tooth[] {
  if (words.arch === null || words.side === null || !hasKind(words)) return []
  const named = teethOfName(words)
  return named.length === 1 ? named : []
}

/** The tooth at a position in the quadrant that the words name; null where they name none. */
export function toothAt(position: string, words: ToothWords): Tooth | null {
  if (words.arch === null || words.side === null) return null
  const quadrant = `${words.arch === 'upper' ? 'U' : 'L'}${words.side === 'right' ? 'R' : 'L'}`
  return isQuadrant(quadrant) ? findInQuadrant(quadrant, position) : null
}

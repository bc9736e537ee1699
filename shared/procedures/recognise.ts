import type { Notation } from '../teeth/notation-names.ts'
import { type Mention, parseTeeth } from '../teeth/parse-teeth.ts'
import { isSurfaces, readSurfaces } from '../teeth/pieces.ts'
import { SURFACES, type Surface, type Tooth } from '../teeth/tooth.ts'
import { TOOTH_WORDS } from '../teeth/tooth-words.ts'
import { isUnsureAfter, isUnsureBefore } from './beside.ts'
import { isLookedAt, isToday } from './not-today.ts'
import type { OwnWord, ProcedureKind, ToothMention } from './work.ts'
import { FILLINGS, GIVES_WAY, IMPLIED, isAnyFilling, NAMED, NO_WORK } from './work-words.ts'

/** A line of a day list as far as it can be told; what cannot stays undetermined. */
export interface RecognisedWork {
  kind: ProcedureKind | 'undetermined'
  teeth: Tooth[]
  surfaces: Partial<Record<Tooth, Surface[]>>
  /** What in the words stays open: each asks until someone clears it. */
  mentions: ToothMention[]
}

/** Words that tell of a complaint or of doubt: what is to be done is for the dentist to say. */
const OPEN =
  /\b(?:broken|fractur\w*|chipped|pain(?:ful)?|ache|toothache|swelling|swollen|emergency|trauma|lost (?:a )?(?:filling|crown)|\?|query|possible|poss|maybe|or|vs|versus)\b|\?|\+\s?\/\s?-|±/i
/** Characters. What is longer is no line of work but a letter, and is asked whole. */
const LONGEST_LINE = 2_000

/**
 * Reads a booking's own words. A kind is named only where the words name exactly one; never guessed. Words that the
 * clinic has taught count before those that everybody uses.
 */
export function recogniseWork(
  text: string,
  notation: Notation,
  own: readonly OwnWord[] = [],
): RecognisedWork {
  if (text.length > LONGEST_LINE) return { kind: 'undetermined', teeth: [], surfaces: {}, mentions: [] }
  const read = parseTeeth(text, notation)
  const clear = read.mentions.filter((mention) => mention.result === 'tooth')
  const named = [...new Set(clear.flatMap((mention) => mention.teeth))]
  // Which of several teeth is today's work, where some of it is not, no rule can tell.
  const isOpen = named.length > 1 && isOfSeveral(text, read.mentions, own)
  const distinct = isOpen ? [] : named
  const open = read.mentions.filter(({ result }) => result === 'ask' || (isOpen && result === 'tooth'))
  return {
    kind: recogniseKind(text, own),
    teeth: distinct,
    surfaces: isOpen ? {} : recogniseSurfaces(text, read.mentions),
    mentions: [
      ...open.map((mention) => mentionOf(mention, notation)),
      ...read.unread.map((words) => ({ ...mentionOf({ text: words, teeth: [] }, notation), unread: true })),
    ],
  }
}

const mentionOf = (mention: Pick<Mention, 'text' | 'teeth'>, notation: Notation): ToothMention => ({
  source: 'booking',
  text: mention.text,
  notation,
  candidates: mention.teeth,
  mirrored: false,
})

function recogniseKind(text: string, own: readonly OwnWord[]): ProcedureKind | 'undetermined' {
  const { kinds: named, isUnsure } = findNamed(text, own)
  const telling = named.filter((kind) => !GIVES_WAY.has(kind))
  const [only, ...more] = telling.length > 0 ? telling : named.slice(0, 1)
  const isOpen = isUnsure || (OPEN.test(text) && !isSettled(text))
  return only === undefined || more.length > 0 || isOpen ? 'undetermined' : only
}

/** Whether a text tells of today's work and of other teeth, or of other work, beside it. */
function isOfSeveral(text: string, mentions: readonly Mention[], own: readonly OwnWord[]): boolean {
  const { kinds, isMixed } = findNamed(text, own)
  const isWork = kinds.some((kind) => !GIVES_WAY.has(kind))
  return (
    isWork &&
    (isMixed || mentions.some((mention) => isLookedAt(textBefore(text, text.indexOf(mention.text)))))
  )
}

/** Stands where a kind was named: `polish filling` is no cleaning. */
const NAMED_BEFORE = '\uE000'

/** As much as can bear on a word: no text, however long, is looked through again for each. */
const BESIDE = 120
const textBefore = (text: string, at: number): string => text.slice(Math.max(0, at - BESIDE), at)
const textAfter = (text: string, at: number): string => text.slice(at, at + BESIDE)

const inWhole = (pattern: RegExp): RegExp => new RegExp(pattern, `g${pattern.flags}`)
const EVERYWHERE = NAMED.map(([kind, pattern]) => [kind, inWhole(pattern)] as const)

interface Named {
  kinds: ProcedureKind[]
  /** Some work is spoken of that is not today's. */
  isMixed: boolean
  /** A word beside it may say that it is not meant: no rule knows the word. */
  isUnsure: boolean
}

/** Kinds named, each stretch of words counted once: `root canal dressing` is not a root canal as well. */
function findNamed(text: string, own: readonly OwnWord[]): Named {
  const blank = (words: string): string => NAMED_BEFORE.repeat(words.length)
  const found: { kind: ProcedureKind; words: string }[] = []
  const places: { at: number; end: number }[] = []
  let isMixed = false
  let left = NO_WORK.reduce(
    (words, pattern) => words.replace(pattern, (said) => '\uE001'.repeat(said.length)),
    text,
  )
  for (const [kind, everywhere] of [...patternsOf(own), ...EVERYWHERE]) {
    const all = [...left.matchAll(everywhere)]
    const today = all.filter(({ 0: words, index }) =>
      isToday(kind, textBefore(left, index), textAfter(left, index + words.length)),
    )
    isMixed ||= today.length < all.length
    if (today.length > 0) found.push({ kind, words: today.map(([words]) => words).join(' ') })
    if (kind !== 'denture' && (!GIVES_WAY.has(kind) || kind === 'temporary-filling'))
      places.push(...today.map(({ 0: words, index }) => ({ at: index, end: index + words.length })))
    if (all.length > 0) left = left.replace(everywhere, blank)
  }
  const isUnsure = places.some(
    ({ at, end }) => isUnsureBefore(textBefore(left, at)) || isUnsureAfter(textAfter(left, end)),
  )
  return { kinds: dropImplied(found), isMixed, isUnsure }
}

/** The clinic's own words as patterns, the longer first: whole words, however they are spaced or pointed. */
const patternsOf = (own: readonly OwnWord[]): [ProcedureKind, RegExp][] =>
  [...own]
    .sort((one, other) => other.words.length - one.words.length)
    .map(({ words, kind }) => [kind, inWhole(patternOf(words))])

const MARKS = String.raw`[\s.,;:/+()\[\]#?!"'’-]`
/** Between two words may stand marks, and what is left out of the words that are taught: a tooth, its surfaces. */
const LEFT_OUT = String.raw`(?:(?:${TOOTH_WORDS.join('|')}|side|of|the|on|in|at|to|thru|tooth|teeth|quad(?:rant)?|arch)s?|(?:no|nr)(?=\.?\s?\d)|[UL][RL]|[MODBLVIFP]{1,5}|[A-T]|\p{L}*\d[\p{L}\d]*)`
const GAP = `${MARKS}+(?:${LEFT_OUT}${MARKS}+)*`

/** The words wherever they stand as words, however they are spaced or pointed, with their tooth between. */
export const patternOf = (words: string): RegExp => {
  const escaped = words.split(' ').map((word) => word.replace(/[.*+?^${}()|[\]\\/-]/g, '\\$&'))
  return new RegExp(`(?<![\\p{L}\\p{N}])${escaped.join(GAP)}(?![\\p{L}\\p{N}])`, 'iu')
}

/** Whether a text speaks of work at all, be it today's or not. */
export function saysWork(text: string): boolean {
  const { kinds, isMixed } = findNamed(text, [])
  return kinds.length > 0 || isMixed
}

/**
 * Whether words alone could tell the kind, and none of these does, or one beside them is not known. A doubt or two
 * kinds are for the dentist.
 */
export function isUnread(text: string, own: readonly OwnWord[] = []): boolean {
  const { kinds, isUnsure } = findNamed(text, own)
  return kinds.length === 0 || isUnsure
}

function dropImplied(found: readonly { kind: ProcedureKind; words: string }[]): ProcedureKind[] {
  const implied = new Set(found.flatMap(({ kind }) => IMPLIED[kind] ?? []))
  const isFilled = found.some(({ kind }) => FILLINGS.has(kind))
  return found
    .filter(({ kind, words }) => !(isFilled && kind === 'direct-composite' && isAnyFilling(words)))
    .map(({ kind }) => kind)
    .filter((kind) => !implied.has(kind))
}

/** A complaint beside work that is named for a tooth leaves the work standing: `RCT 36, painful`. */
const isSettled = (text: string): boolean =>
  !/\?|\+\s?\/\s?-|±|\b(?:query|possible|poss|maybe|or|vs|versus)\b/i.test(text)

const SURFACE_WORDS: readonly [RegExp, Surface][] = [
  [/\b(?:mesial|mesio)/i, 'M'],
  [/occlusal\b/i, 'O'],
  [/\bocclus/i, 'O'],
  [/(?:distal\b|\bdisto)/i, 'D'],
  [/(?:buccal|facial|labial)\b/i, 'B'],
  [/(?:lingual|palatal)\b/i, 'L'],
  [/incisal\b/i, 'I'],
  [/\bcervical\b|\bclass\s?(?:v|5)\b/i, 'V'],
]

/** `DO comp 36`: letters that stand apart from their tooth. */
const LETTERS_APART = /(?<!\w)(?!I{2,}|IV|VI|DOB)([MOD]{2,3}[BL]?)(?!\w|\s+NOT\b|\s+not\b)/

/** Letters stand beside their tooth; words count only where one tooth is named, as they could mean any. */
function recogniseSurfaces(text: string, mentions: readonly Mention[]): RecognisedWork['surfaces'] {
  const clear = mentions.filter((mention) => mention.result === 'tooth')
  const surfaces: RecognisedWork['surfaces'] = {}
  for (const { teeth, surfaces: own } of clear) {
    for (const tooth of teeth)
      if (own.length > 0) surfaces[tooth] = [...new Set([...(surfaces[tooth] ?? []), ...own])]
  }
  const [only, ...more] = [...new Set(clear.flatMap((mention) => mention.teeth))]
  if (!only || more.length > 0 || surfaces[only]) return surfaces
  const lettered = LETTERS_APART.exec(text)?.[1]
  if (lettered && isSurfaces(lettered)) return { [only]: readSurfaces(lettered) }
  const worded = SURFACE_WORDS.filter(([word]) => word.test(text)).map(([, surface]) => surface)
  return worded.length > 0 ? { [only]: inOrder(worded) } : surfaces
}

const inOrder = (some: readonly Surface[]): Surface[] => SURFACES.filter((surface) => some.includes(surface))

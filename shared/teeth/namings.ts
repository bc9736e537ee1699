import { blankNotTeeth } from './not-teeth.ts'
import { makePalmer, parseCorner } from './notation.ts'
import type { Notation } from './notation-names.ts'
import { BRIDGE, findPieces, type Piece, plainSigns } from './pieces.ts'
import type { Tooth } from './tooth.ts'
import {
  contradict,
  NO_WORDS,
  opensAnother,
  readWords,
  saysSomething,
  type ToothWords,
  teethOfWords,
} from './tooth-words.ts'

/** A number, a range or a run of words, with all words that go with it. */
export interface Naming {
  text: string
  at: number
  from: Piece | null
  /** The other end of a range. */
  to: Piece | null
  words: ToothWords
  /** The teeth that its runs of words name, each for itself. */
  worded: readonly Tooth[]
  /** Of several teeth: `6s`, `first molars`; `all` where the words say that each of them is meant. */
  several: 'some' | 'all' | null
  system: Notation | null
  /** In brackets or after a slash behind another naming: the same tooth said again. */
  again: boolean
}

/** A run of words of which nothing but filling lies between. */
interface Phrase {
  words: ToothWords
  isPlural: boolean
  at: number
  end: number
}

const FILLING = /^[\s,-]*(?:(?:of|the|on|in|at|side|tooth|quadrant|arch)[\s,-]*)*$/i
const BESIDE = /^[\s,(:-]*(?:(?:of|the|on|in|at|side|tooth|is|=)[\s,(:-]*)*$/i
const RANGE = new RegExp(
  String.raw`^\s{0,2}(?:-|->|→|~|to|thru|through|till?|until|\.{2,3}|…|${BRIDGE}+)\s{0,2}$`,
  'i',
)
/** `6|6`, `E/E`: the position on either side. */
const TWIN = /^\s?[/|]\s?$/
const LIST = /^\s*(?:[,/&+]|and)?\s*$/i
const AGAIN = /^\s?(?:\(|\/|=)\s?(?:#\s?)?$/

/** No word is longer. */
const WORD = 40
/** A tooth is said in fewer words. */
const LATELY = 12
const ALL_BEFORE = /\b(?:all|each|every)\s(?:(?:of|the|four|two|4|2)\s)*$/i

/** The namings of a note in order. */
export function findNamings(text: string): Naming[] {
  const note = plainSigns(text)
  const pieces = findPieces(note)
  const phrases = findPhrases(pieces, note)
  const numbers = pieces.filter((piece) => piece.kind !== 'word' && piece.kind !== 'system')
  const owners = phrases.map((phrase) => findOwner(phrase, numbers, note))
  const taken: Phrase[] = []
  const named = joinRanges(numbers, note).map((range, index, all): Naming => {
    const own = alike(phrases.filter((_, each) => isOwner(owners[each], range)))
    taken.push(...own)
    const before = all[index - 1]
    return {
      ...range,
      at: range.from.at,
      words: own.reduce((words, phrase) => joinWords(words, phrase.words), NO_WORDS),
      worded: own.flatMap((phrase) => teethOfWords(phrase.words)),
      several: range.from.kind === 'each' ? severalOf(own[0] ?? range.from, note) : null,
      system: findSystem(pieces, range, note),
      again: before !== undefined && AGAIN.test(note.slice((before.to ?? before.from).end, range.from.at)),
    }
  })
  const lonely = phrases
    .filter((phrase) => !taken.includes(phrase))
    .map((phrase) => wordsNaming(phrase, note))
  return [...inheritQuadrants(named, note), ...lonely]
    .sort((a, b) => a.at - b.at)
    .map((naming) => ({ ...naming, text: text.slice(naming.at, naming.at + naming.text.length) }))
}

/** Those that do not contradict the first. */
const alike = (phrases: readonly Phrase[]): Phrase[] =>
  phrases.filter(({ words }) => !phrases[0] || !contradict(phrases[0].words, words))

const severalOf = ({ at }: { at: number }, note: string): 'some' | 'all' =>
  ALL_BEFORE.test(note.slice(Math.max(0, at - WORD), at)) ? 'all' : 'some'

function findPhrases(pieces: readonly Piece[], note: string): Phrase[] {
  const phrases: (Omit<Phrase, 'words'> & { said: string[] })[] = []
  for (const piece of pieces) {
    if (piece.kind !== 'word') continue
    const last = phrases.at(-1)
    const said = piece.value.replace(/s$/, '')
    const gap = note.slice(last?.end ?? 0, piece.at)
    if (
      last &&
      FILLING.test(gap) &&
      !opensAnother(said, readWords(last.said.slice(-LATELY)), /[,\n]/.test(gap))
    ) {
      last.said.push(said)
      last.end = piece.end
      last.isPlural ||= isPlural(piece, note)
    } else phrases.push({ said: [said], isPlural: isPlural(piece, note), at: piece.at, end: piece.end })
  }
  return phrases
    .map(({ said, ...phrase }) => ({ ...phrase, words: readWords(said) }))
    .filter(({ words }) => saysSomething(words))
}

const isPlural = (piece: Piece, note: string): boolean =>
  piece.value.toLowerCase().endsWith('s') || /^\steeth\b/i.test(note.slice(piece.end))

/** The number that a run of words goes with: the nearer of those right beside it, the one before it first. */
function findOwner(phrase: Phrase, numbers: readonly Piece[], note: string): Piece | null {
  const before = numbers.findLast((piece) => piece.end <= phrase.at)
  const after = numbers.find((piece) => piece.at >= phrase.end)
  const gapBefore = before ? note.slice(before.end, phrase.at) : null
  const gapAfter = after ? note.slice(phrase.end, after.at) : null
  const isBefore = gapBefore !== null && BESIDE.test(gapBefore)
  const isAfter = gapAfter !== null && BESIDE.test(gapAfter)
  if (isBefore && isAfter) return (gapAfter.length < gapBefore.length ? after : before) ?? null
  return (isBefore ? before : isAfter ? after : null) ?? null
}

const isOwner = (owner: Piece | null | undefined, { from, to }: Range): boolean =>
  owner != null && (owner.at === from.at || owner.at === to?.at)

interface Range {
  text: string
  from: Piece
  to: Piece | null
}

function joinRanges(numbers: readonly Piece[], note: string): Range[] {
  const ranges: Range[] = []
  for (let index = 0; index < numbers.length; index += 1) {
    const [from, to] = [numbers[index], numbers[index + 1]]
    if (!from) continue
    const between = note.slice(from.end, to?.at ?? from.end)
    const isTwin = to?.value === from.value && POSITION.test(from.value) && TWIN.test(between)
    const isRange = to !== undefined && (isTwin || (!from.doubt && RANGE.test(between)))
    ranges.push({
      text: note.slice(from.at, isRange ? to.end : from.end).trim(),
      from: { ...from, kind: isTwin ? 'each' : from.kind, doubt: from.doubt || between.includes(BRIDGE) },
      to: isRange && !isTwin ? to : null,
    })
    if (isRange) index += 1
  }
  return ranges
}

const joinWords = (a: ToothWords, b: ToothWords): ToothWords => ({
  arch: a.arch ?? b.arch,
  side: a.side ?? b.side,
  dentition: a.dentition ?? b.dentition,
  name: [...a.name, ...b.name],
})

const BEFORE_NUMBER = /^[\s:.#-]*(?:(?:no|tooth|teeth)\.?\s)?$/i
const AFTER_NUMBER = /^\s?\(?$/

/** A notation named right beside the number: `ISO 31`, `31 (FDI)`. */
function findSystem(pieces: readonly Piece[], range: Range, note: string): Notation | null {
  const { from, to } = range
  const named = pieces.find(
    (piece) =>
      piece.kind === 'system' &&
      (BEFORE_NUMBER.test(note.slice(piece.end, from.at)) ||
        (piece.at >= from.end && AFTER_NUMBER.test(note.slice((to ?? from).end, piece.at)))),
  )
  if (!named) return null
  const name = named.value.toLowerCase()
  return name.startsWith('univ') ? 'universal' : name.startsWith('palmer') ? 'palmer' : 'iso'
}

export const POSITION = /^[1-8A-E]$/

/** `UR4, 5`, `upper right 4 5`: a position in a list takes the quadrant, and the system, of the one before it. */
function inheritQuadrants(namings: readonly Naming[], note: string): Naming[] {
  const heirs: Naming[] = []
  for (const naming of namings) {
    const last = heirs.at(-1)
    const lastEnd = last === undefined ? 0 : (last.to ?? last.from)?.end
    const listed = last !== undefined && LIST.test(note.slice(lastEnd, naming.at))
    heirs.push(
      listed && naming.from !== null && !saysSomething(naming.words) ? inherit(naming, last) : naming,
    )
  }
  return heirs
}

function inherit(naming: Naming, last: Naming): Naming {
  const system = naming.system ?? last.system
  if (!POSITION.test(naming.from?.value ?? '') || last.from === null) return { ...naming, system }
  if (last.from.kind === 'palmer') {
    const [before] = parseCorner(last.from.value) ?? []
    const quadrant = before ? makePalmer(before).slice(0, 2) : ''
    return {
      ...naming,
      system,
      from: { ...last.from, ...naming.from, kind: 'palmer', value: quadrant + naming.from?.value },
    }
  }
  const { arch, side } = last.words
  return POSITION.test(last.from.value)
    ? { ...naming, system, words: { ...NO_WORDS, arch, side } }
    : { ...naming, system }
}

const wordsNaming = (phrase: Phrase, note: string): Naming => ({
  text: note.slice(phrase.at, phrase.end).trim(),
  at: phrase.at,
  from: null,
  to: null,
  words: phrase.words,
  worded: teethOfWords(phrase.words),
  several: phrase.isPlural ? severalOf(phrase, note) : null,
  system: null,
  again: false,
})

/**
 * Numbers of one or two digits that stand in no naming and are not known to be anything else, each with what is
 * written as one with it. Longer ones are codes and name no tooth.
 */
export function findUnread(text: string, namings: readonly Naming[]): { text: string; at: number }[] {
  const left = blankNotTeeth(plainSigns(text))
  return [...left.matchAll(/(?<!\d)\d{1,2}(?!\d)/g)]
    .filter(({ index }) => !namings.some((each) => index >= each.at && index < each.at + each.text.length))
    .map(({ index }) => {
      const before = /\S*$/.exec(text.slice(Math.max(0, index - WORD), index))?.[0] ?? ''
      const at = index - before.length
      return { text: /^\S+/.exec(text.slice(at, index + WORD))?.[0] ?? '', at }
    })
}

import type { Notation } from './notation-names.ts'
import { findPieces, type Piece, plainDashes } from './pieces.ts'
import { NO_WORDS, readWords, saysSomething, type ToothWords } from './tooth-words.ts'

/** A number, a range or a run of words, with all words that go with it. */
export interface Naming {
  text: string
  at: number
  from: Piece | null
  /** The other end of a range. */
  to: Piece | null
  words: ToothWords
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
const RANGE = /^\s{0,2}(?:-|->|→|to|thru|through|till?|until|\.{2,3}|…)\s{0,2}$/i
const LIST = /^\s*(?:[,/&+]|and)?\s*$/i
const AGAIN = /^\s?(?:\(|\/|=)\s?(?:#\s?)?$/

const ALL_BEFORE = /\b(?:all|each|every)\s(?:(?:of|the|four|two|4|2)\s)*$/i

/** The namings of a note in order. */
export function findNamings(text: string): Naming[] {
  const note = plainDashes(text)
  const pieces = findPieces(note)
  const phrases = findPhrases(pieces, note)
  const numbers = pieces.filter((piece) => ['number', 'each', 'palmer'].includes(piece.kind))
  const owners = phrases.map((phrase) => findOwner(phrase, numbers, note))
  const named = joinRanges(numbers, note).map((range, index, all): Naming => {
    const own = phrases.filter((_, each) => isOwner(owners[each], range))
    const before = all[index - 1]
    return {
      ...range,
      at: range.from.at,
      words: own.reduce((words, phrase) => joinWords(words, phrase.words), NO_WORDS),
      several: range.from.kind === 'each' ? severalOf(own[0] ?? range.from, note) : null,
      system: findSystem(pieces, range, note),
      again: before !== undefined && AGAIN.test(note.slice((before.to ?? before.from).end, range.from.at)),
    }
  })
  const lonely = phrases
    .filter((_, index) => owners[index] === null)
    .map((phrase) => wordsNaming(phrase, note))
  return [...inheritQuadrants(named, note), ...lonely]
    .sort((a, b) => a.at - b.at)
    .map((naming) => ({ ...naming, text: text.slice(naming.at, naming.at + naming.text.length) }))
}

const severalOf = ({ at }: { at: number }, note: string): 'some' | 'all' =>
  ALL_BEFORE.test(note.slice(0, at)) ? 'all' : 'some'

function findPhrases(pieces: readonly Piece[], note: string): Phrase[] {
  const phrases: (Omit<Phrase, 'words'> & { said: string[] })[] = []
  for (const piece of pieces) {
    if (piece.kind !== 'word') continue
    const last = phrases.at(-1)
    const said = piece.value.replace(/s$/, '')
    if (last && FILLING.test(note.slice(last.end, piece.at))) {
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
  owner != null && (owner === from || owner === to)

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
    const isRange = to !== undefined && !from.doubt && RANGE.test(note.slice(from.end, to.at))
    ranges.push({
      text: note.slice(from.at, isRange ? to.end : from.end).trim(),
      from,
      to: isRange ? to : null,
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
    const quadrant = last.from.value.replaceAll(/[\s-]/g, '').slice(0, 2).toUpperCase()
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
  several: phrase.isPlural ? severalOf(phrase, note) : null,
  system: null,
  again: false,
})

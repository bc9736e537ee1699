import { readCorner } from './corner.ts'
import { findNamings, findUnread, type Naming, POSITION } from './namings.ts'
import { findInEachQuadrant, findInQuadrant, parseIso, parseUniversal, QUADRANTS } from './notation.ts'
import type { Notation } from './notation-names.ts'
import type { Piece } from './pieces.ts'
import { crossesMidline, rangeOf } from './span.ts'
import {
  archOf,
  dentitionOf,
  mirrorOf,
  positionOf,
  quadrantOf,
  type Surface,
  sideOf,
  TEETH,
  type Tooth,
} from './tooth.ts'
import {
  agreesWith,
  saysSomething,
  type ToothWords,
  teethOfName,
  teethOfWords,
  toothAt,
} from './tooth-words.ts'

/** One naming of teeth in a note. `tooth`: clear · `ask`: `teeth` are the candidates · `none`: no such tooth. */
export interface Mention {
  text: string
  result: 'tooth' | 'ask' | 'none'
  teeth: Tooth[]
  surfaces: Surface[]
}

export interface ParsedTeeth {
  mentions: Mention[]
  /** `ask` if any mention asks, `none` if there is no tooth. */
  result: 'tooth' | 'ask' | 'none'
  /** All named, or all candidates. */
  teeth: Tooth[]
  /** Numbers and letters that name no tooth and are not known to be anything else, as they were written. */
  unread: string[]
}

/**
 * The teeth that a note names. Digits follow the clinic's notation; with `ask`, what is legal in two systems is
 * asked; words that contradict the number are asked under any notation.
 */
export function parseTeeth(note: string, notation: Notation): ParsedTeeth {
  const namings = findNamings(note)
  const read = crossCheck(namings.map((naming) => readNaming(naming, notation)))
  const mentions = read.map(({ joined: _, ...mention }) => mention)
  const teeth = distinct(mentions.flatMap((mention) => mention.teeth))
  const asks = mentions.some((mention) => mention.result === 'ask')
  const nowhere = mentions.filter(({ result }, index) => result === 'none' && namings[index]?.from != null)
  return {
    mentions,
    result: asks ? 'ask' : teeth.length > 0 ? 'tooth' : 'none',
    teeth,
    unread: distinct([...nowhere, ...findUnread(note, namings)].map(({ text }) => text)),
  }
}

const distinct = <T>(some: readonly T[]): T[] => [...new Set(some)]

type Reading = Mention & { joined: boolean }

function readNaming(naming: Naming, clinic: Notation): Reading {
  const doubt = naming.from?.doubt === true || naming.to?.doubt === true
  const said = readSaid(naming, naming.system ?? clinic)
  const result = doubt && said.result === 'tooth' ? 'ask' : said.result
  const surfaces = naming.to?.surfaces.length ? naming.to.surfaces : (naming.from?.surfaces ?? [])
  return { text: naming.text, ...said, result, surfaces, joined: naming.again }
}

type Said = Pick<Mention, 'result' | 'teeth'>
const clear = (teeth: Tooth[]): Said => ({ result: 'tooth', teeth })
const asks = (teeth: readonly Tooth[]): Said =>
  teeth.length === 0 ? { result: 'none', teeth: [] } : { result: 'ask', teeth: distinct(teeth) }

function readSaid(naming: Naming, notation: Notation): Said {
  if (naming.from?.kind === 'each') return readEach(naming, naming.from, notation)
  if (naming.from?.kind === 'run')
    return asks(naming.from.value.match(/../g)?.flatMap((pair) => isoOf(pair) ?? []) ?? [])
  return naming.from === null ? readWordsAlone(naming) : readNumber(naming, notation)
}

/** `first molars`: the one of each quadrant that is meant, where the words say of which quadrants. */
function readWordsAlone({ words, several }: Naming): Said {
  if (several === null) {
    const teeth = teethOfWords(words)
    return teeth.length > 0 ? clear(teeth) : asks(teethOfName(words))
  }
  return readSeveral(teethOfName(words), { words, several })
}

/** `upper 6s`: a position of each quadrant. It is a way of speaking of those who count by quadrants. */
function readEach({ words, several }: Naming, { value }: Piece, notation: Notation): Said {
  const teeth = findInEachQuadrant(value).filter((tooth) => agreesWith(tooth, words))
  const isOurs = notation === 'iso' || notation === 'palmer'
  return isOurs ? readSeveral(teeth, { words, several }) : asks(teeth)
}

function readSeveral(teeth: Tooth[], { words, several }: Pick<Naming, 'words' | 'several'>): Said {
  const isOneOfEach = new Set(teeth.map(quadrantOf)).size === teeth.length
  return isOneOfEach && teeth.length > 0 && (several === 'all' || words.arch !== null || words.side !== null)
    ? clear(teeth)
    : asks(teeth)
}

/** What each system makes of it; null where it is not legal there. */
interface Readings {
  iso: Tooth[] | null
  universal: Tooth[] | null
  palmer: Tooth[] | null
  /** A position alone: the teeth of each quadrant that the words leave open. */
  corners: Tooth[]
}

function readNumber(naming: Naming, notation: Notation): Said {
  const across = acrossMidline(naming)
  if (across) return across
  const readings = readInEach(naming)
  const own =
    naming.from?.kind === 'palmer'
      ? cornerReading(readings, notation)
      : ownReading(readings, naming.words, notation)
  if (own === 'ask') return readOpen(naming, readings)
  if (own === null || !agree(own, naming.words))
    return asks([...(own ?? []), ...candidatesOf(readings, naming)])
  return isTooFar(own) ? asks(own) : clear(own)
}

const legalIn = ({ iso, universal, palmer }: Readings): Tooth[][] =>
  [iso, universal, palmer].filter((teeth) => teeth !== null)

/** A quadrant with its positions, unless its digits or letters can be a number or letter of the mouth: `UL 23`. */
const cornerReading = ({ iso, universal, palmer }: Readings, notation: Notation): Tooth[] | null => {
  const isUniversal = universal !== null && universal.join() !== palmer?.join()
  return iso !== null || (isUniversal && (notation === 'universal' || notation === 'ask')) ? null : palmer
}

/** Every tooth that number and words can mean, whoever is right. */
function candidatesOf(readings: Readings, { words, worded }: Naming): Tooth[] {
  const numbered = distinct([...legalIn(readings).flat(), ...readings.corners])
  if (!saysSomething(words)) return numbered
  const said = [...(readings.palmer ?? []), ...worded]
  return distinct([...numbered, ...(said.length > 0 ? said : samePosition(numbered, words))])
}

/**
 * By the clinic's own notation; a spoken quadrant with a position is understood where digits are ISO too. In
 * Universal `UR 6` may be number 6 of the mouth, or the sixth of its quadrant.
 */
function ownReading(readings: Readings, words: ToothWords, notation: Notation): Tooth[] | null | 'ask' {
  switch (notation) {
    case 'ask':
      return 'ask'
    case 'iso':
      return readings.iso ?? readings.palmer
    case 'universal':
      return rivals(readings, words) ? null : readings.universal
    case 'palmer':
      return readings.palmer
  }
}

/**
 * A quadrant and position that mean another tooth than the number of the mouth does, or one of several positions:
 * `upper 6` is number 6, a sixth tooth, or six of them.
 */
const rivals = ({ universal, palmer, corners }: Readings, words: ToothWords): boolean =>
  palmer !== null
    ? agree(palmer, words) && universal?.join() !== palmer.join()
    : corners.length > 0 && (words.arch !== null || words.side !== null) && words.name.length === 0

/** `upper 3-3`: from one side to the other, by those who count from the midline. */
function acrossMidline({ from, to, words }: Naming): Said | null {
  if (from?.kind !== 'number' || from.value !== to?.value || !isPosition(from)) return null
  const ends = findInEachQuadrant(from.value)
  const rows = ends.flatMap((end) => (sideOf(end) === 'right' ? [rangeOf(end, mirrorOf(end)) ?? []] : []))
  const [row, ...more] = rows.filter((each) => agree(each, words))
  if (row && more.length === 0 && !isTooFar(row)) return clear(row)
  return asks(row ? [row, ...more].flat() : ends.filter((end) => agreesWith(end, words)))
}

/** `#5` is a number of a whole mouth and no position. */
const isPosition = ({ value, text }: Piece): boolean => POSITION.test(value) && !text.startsWith('#')

/** No notation is known: one reading that the words leave standing is clear, a letter or several are asked. */
function readOpen(naming: Naming, readings: Readings): Said {
  const said = saysSomething(naming.words)
  const agreed = legalIn(readings).filter((teeth) => agree(teeth, naming.words))
  const [only] = agreed
  const isOne = distinct(agreed.map((teeth) => teeth.join())).length === 1
  if (only && isOne && !isTooFar(only) && (said || isClearAlone(naming, readings))) return clear(only)
  return asks(said && agreed.length > 0 ? agreed.flat() : candidatesOf(readings, naming))
}

/** Digits that one system alone knows; a letter and a bare position are never clear without a notation. */
function isClearAlone({ from, to }: Naming, readings: Readings): boolean {
  if (from === null || legalIn(readings).length !== 1 || readings.corners.length > 0) return false
  const isInUniversal =
    to !== null && parseUniversal(from.value) !== null && parseUniversal(to.value) !== null
  return from.kind === 'palmer' || (/^[\d.]+$/.test(from.value) && !isInUniversal)
}

const agree = (teeth: readonly Tooth[], words: ToothWords): boolean =>
  teeth.every((tooth) => agreesWith(tooth, words))

/** Teeth at the same position that the words would mean instead. */
const samePosition = (teeth: readonly Tooth[], words: ToothWords): Tooth[] =>
  TEETH.filter((tooth) => agreesWith(tooth, words) && teeth.some((other) => isAlike(tooth, other)))

const isAlike = (a: Tooth, b: Tooth): boolean =>
  positionOf(a) === positionOf(b) && dentitionOf(a) === dentitionOf(b)

function readInEach({ from, to, words }: Naming): Readings {
  const start = from?.value ?? ''
  if (from?.kind === 'palmer') return { ...readCorner(from, to), corners: [] }
  if (to) {
    return {
      iso: rangeOf(isoOf(start), isoOf(to.value)),
      universal: rangeOf(parseUniversal(start), parseUniversal(to.value)),
      palmer: rangeOf(positioned(start, words), positioned(to.value, words)),
      corners: from && isPosition(from) ? cornerRanges(start, to.value, words) : outOfRange(start, to.value),
    }
  }
  return {
    iso: listOf(isoOf(start)),
    universal: listOf(parseUniversal(start)),
    palmer: from && isPosition(from) ? listOf(positioned(start, words)) : null,
    corners: isCorner(from, words)
      ? findInEachQuadrant(start).filter((tooth) => agreesWith(tooth, words))
      : [],
  }
}

/** A position without its quadrant. */
const isCorner = (from: Piece | null, words: ToothWords): boolean =>
  from !== null && isPosition(from) && positioned(from.value, words) === null

const isoOf = (value: string): Tooth | null => parseIso(value.replace('.', ''))
const listOf = (tooth: Tooth | null): Tooth[] | null => (tooth === null ? null : [tooth])
const positioned = (value: string, words: ToothWords): Tooth | null =>
  POSITION.test(value) ? toothAt(value, words) : null

/** A range of positions, in each quadrant that the words leave open. */
const cornerRanges = (start: string, end: string, words: ToothWords): Tooth[] =>
  QUADRANTS.flatMap(
    (quadrant) => rangeOf(findInQuadrant(quadrant, start), findInQuadrant(quadrant, end)) ?? [],
  ).filter((tooth) => agreesWith(tooth, words))

/** Both ends of what is no range by ISO, nor perhaps in any system: still to be asked, never dropped. */
function outOfRange(start: string, end: string): Tooth[] {
  if (rangeOf(isoOf(start), isoOf(end)) !== null) return []
  const isUniversal = rangeOf(parseUniversal(start), parseUniversal(end)) !== null
  const ends = [
    isoOf(start),
    isoOf(end),
    ...(isUniversal ? [] : [parseUniversal(start), parseUniversal(end)]),
  ]
  return ends.filter((tooth) => tooth !== null)
}

/** From molar to molar round the front is as likely two teeth as a whole arch. */
const isTooFar = (teeth: readonly Tooth[]): boolean => {
  const [first, last] = [teeth[0], teeth.at(-1)]
  if (!first || !last || teeth.length < 3 || archOf(first) !== archOf(last)) return false
  return crossesMidline([first, last]) && positionOf(first) >= 6 && positionOf(last) >= 6
}

/** `46 (#30)`: the same tooth said twice makes it clear, where one of the two is. */
function crossCheck(readings: readonly Reading[]): Reading[] {
  const checked = [...readings]
  for (const [index, reading] of checked.entries()) {
    const before = checked[index - 1]
    if (!reading.joined || !before) continue
    const [settledBefore, settled] = [settle(before, reading), settle(reading, before)]
    checked[index - 1] = settledBefore
    checked[index] = settled
  }
  return checked
}

function settle(open: Reading, other: Reading): Reading {
  const [tooth] = other.teeth
  const settles = open.result === 'ask' && other.result === 'tooth' && other.teeth.length === 1
  return settles && tooth && open.teeth.includes(tooth) && !open.text.includes('?')
    ? { ...open, result: 'tooth', teeth: [tooth] }
    : open
}

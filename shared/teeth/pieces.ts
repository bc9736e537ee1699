import { blankNotTeeth, findDoubtful } from './not-teeth.ts'
import type { Surface } from './tooth.ts'
import { TOOTH_WORDS } from './tooth-words.ts'

/** A part of a note that bears on teeth, and where it stands. */
export interface Piece {
  /**
   * `number`: digits, or one capital letter · `palmer`: quadrant and position written as one · `word`: of a
   * tooth's name · `system`: the name of a notation.
   */
  kind: 'number' | 'palmer' | 'word' | 'system'
  /** What it says, without marks round it. */
  value: string
  text: string
  at: number
  end: number
  /** Surfaces written beside a number: `46 MO`. */
  surfaces: Surface[]
  /** A question mark follows, or it can be a date. */
  doubt: boolean
}

/** Tried in order at each place of the text. The one group, where there is one, is the value. */
const PATTERNS: readonly [Piece['kind'], RegExp][] = [
  ['palmer', /[⌏⌋⏌⏋┘┐⎿⎾└┌]\s?[1-8A-E]/y],
  ['palmer', /[1-8A-E]\s?[⌏⏌⏋┘┐](?!\s?[1-8A-E](?!\w))/y],
  ['palmer', /(?<!\w)(?:UR|UL|LL|LR)-?(?:[1-8](?!\d)|[A-E](?![a-z]\w|\w))/y],
  ['palmer', /(?<!\w)(?:ur|ul|ll|lr)[1-8](?!\d)/y],
  ['word', /(?<!\w)(?:UR|UL|LL|LR)(?!\w)/y],
  ['system', /(?<!\w)(?:ISO|FDI|Universal|Univ|Palmer)(?!\w)\.?/iy],
  ['word', new RegExp(String.raw`(?<![\w])(?:${TOOTH_WORDS.join('|')})s?(?!\w)`, 'iy')],
  ['number', /(?<![\w.])([1-8]\.[1-8])(?![\w.])/y],
  [
    'number',
    /(?<!\w)(?:#\s?|(?:no|nr|tooth|teeth)\.?\s)?(?<!\d[.])(?<![A-Za-z])(\d{1,2})(?!\d|[.]\d)(?=[A-Za-z]{0,5}(?!\w))/iy,
  ],
  ['number', /(?<![\w.'’-])#?([A-T])(?![\w.'’]|-\w)/y],
  ['number', /(?<!\w)(?:tooth|teeth)\s([a-t])(?!\w)/iy],
]
const SURFACES_AFTER = /[\s-]?([MODBLIPFV]{1,5}|(?<=\d)(?!mo\b)[modbliv]{2,5})(?!\w)/y
// not the Roman figure of a class
const SURFACES_BEFORE = /(?<!\w)(?!I{2,}|IV|VI)([MODBLIPFV]{2,5})\s+(?:(?:on|of|at)\s+)?(?:#\s?|tooth\s)?$/
const DOUBT = /\s?\?/y

const SURFACE_OF: Record<string, Surface> = {
  M: 'M',
  O: 'O',
  D: 'D',
  B: 'B',
  L: 'L',
  I: 'I',
  V: 'V',
  F: 'B',
  P: 'L',
}
/** `MOD` as its surfaces; facial counts as buccal, palatal as lingual. */
export const readSurfaces = (letters: string): Surface[] => [
  ...new Set([...letters.toUpperCase()].flatMap((letter) => SURFACE_OF[letter] ?? [])),
]

/** The pieces of a note in order. What cannot be a tooth (times, amounts, ages, counts) is left out. */
export function findPieces(note: string): Piece[] {
  const text = blankNotTeeth(note)
  const doubtful = findDoubtful(text)
  const pieces: Piece[] = []
  let at = 0
  while (at < text.length) {
    const piece = pieceAt(text, at)
    if (piece) {
      const doubt = piece.doubt || doubtful.some((stretch) => at >= stretch.at && at < stretch.end)
      pieces.push({ ...piece, doubt, text: note.slice(piece.at, piece.end).trim() })
    }
    at = piece ? piece.end : at + 1
  }
  return pieces
}

function pieceAt(text: string, at: number): Piece | null {
  for (const [kind, pattern] of PATTERNS) {
    const found = matchAt(pattern, text, at)
    if (!found || (kind === 'number' && isNoTooth(text, at, found))) continue
    const piece = { kind, value: found[1] ?? found[0], text: found[0], at, end: at + found[0].length }
    return kind === 'number' || kind === 'palmer'
      ? withTail(text, piece)
      : { ...piece, surfaces: [], doubt: false }
  }
  return null
}

function matchAt(pattern: RegExp, text: string, at: number): RegExpExecArray | null {
  pattern.lastIndex = at
  return pattern.exec(text)
}

const TITLE_BEFORE =
  /\b(?:Dr|Mr|Mrs|Ms|Miss|class|type|vitamin|vit|hep|hepatitis|shade|plan|option|grade)\.?\s$/i
const LOWER_AFTER = /^\s[a-z]/
const UNIT_AFTER = /^[A-Za-z]/
const SURFACE_LETTERS = /^(?:[MODBLIPFV]{1,5}|[modbliv]{2,5})(?!\w)/

/** A capital that opens a sentence or follows a title, digits that run into a word that is no surface. */
function isNoTooth(text: string, at: number, found: RegExpExecArray): boolean {
  const [whole, value = ''] = found
  const after = text.slice(at + whole.length)
  if (/^\d/.test(value)) return UNIT_AFTER.test(after) && !SURFACE_LETTERS.test(after)
  if (whole !== value) return false
  const isArticle = (value === 'A' || value === 'I') && LOWER_AFTER.test(after)
  return isArticle || TITLE_BEFORE.test(text.slice(0, at))
}

type Bare = Omit<Piece, 'surfaces' | 'doubt'>

/** With the surfaces and the question mark that follow it. */
function withTail(text: string, piece: Bare): Piece {
  const after = matchAt(SURFACES_AFTER, text, piece.end)
  const before = SURFACES_BEFORE.exec(text.slice(0, piece.at))
  const isLetter = /^[A-T]$/.test(piece.value)
  const end = after && !isLetter ? piece.end + after[0].length : piece.end
  const letters = (isLetter ? undefined : after?.[1]) ?? before?.[1] ?? ''
  const doubt = matchAt(DOUBT, text, end) !== null
  return { ...piece, end, surfaces: readSurfaces(letters), doubt }
}

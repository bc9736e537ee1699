import { blankNotTeeth, findDoubtful } from './not-teeth.ts'
import type { Surface } from './tooth.ts'
import { TOOTH_WORDS } from './tooth-words.ts'

/** A part of a note that bears on teeth, and where it stands. */
export interface Piece {
  /**
   * `number`: digits, or one capital letter · `each`: a position said of several teeth, as `6s` · `palmer`:
   * quadrant and its positions written as one · `run`: numbers written as one, as `1626` · `word`: of a tooth's
   * name · `system`: the name of a notation.
   */
  kind: 'number' | 'each' | 'palmer' | 'run' | 'word' | 'system'
  /** What it says, without marks round it. */
  value: string
  text: string
  at: number
  end: number
  /** Surfaces written beside a number: `46 MO`. */
  surfaces: Surface[]
  /** A question mark follows, or it can be a date, or it is written in a way that can mean something else. */
  doubt: boolean
}

const CORNER = '(?:UR|UL|LL|LR)'
/** Two digits that ISO 3950 knows as a tooth. */
const ISO = '(?:[1-4][1-8]|[5-8][1-5])'
/** Two positions side by side, as `45`, or digits that are no tooth of ISO. */
const PAIR = `(?:12|21|23|32|34|43|45|54|56|65|67|76|78|87|(?!${ISO})[1-8]{2})`

/**
 * Tried in order at each place of the text. The one group, where there is one, is the value. `doubt`: as likely
 * something else (COMMON, as all of these are habits of writing).
 */
const PATTERNS: readonly [Piece['kind'], RegExp, 'doubt'?][] = [
  ['palmer', /[⌏⌋⏌⏋┘┐⎿⎾└┌]\s?[1-8A-E]/y],
  ['palmer', /[1-8A-E]\s?[⌏⏌⏋┘┐](?!\s?[1-8A-E](?!\w))/y],
  ['palmer', new RegExp(String.raw`(?<!\w)${CORNER}[-./:]?(?:[1-8](?!\d)|[A-E](?![a-z]\w|\w))`, 'y')],
  ['palmer', new RegExp(String.raw`(?<!\w)${CORNER}[-./:\s]?(?:${PAIR}|[1-8]{3,8}|[A-E]{2,5})(?!\w)`, 'y')],
  ['palmer', new RegExp(String.raw`(?<!\w)${CORNER}[1-8](?!\d)`, 'iy')],
  ['palmer', /(?<!\w)[UuLl][RrLl][A-E](?!\w)/y],
  [
    'palmer',
    new RegExp(String.raw`(?<!\w)(?:${CORNER}\s?[a-e]{2,5}|(?:ur|ul|ll|lr)[a-e])(?!\w)`, 'iy'),
    'doubt',
  ],
  ['palmer', new RegExp(String.raw`(?<!\w)[1-8A-E]${CORNER}(?!\w)`, 'y')],
  ['palmer', /(?<!\w)[UL]\/[RL][\s-]?(?:[1-8]|[A-E])(?!\w)/iy, 'doubt'],
  ['word', /(?<!\w)(?:UR|UL|LL|LR)(?=\W|\d{2}(?!\w)|$)/y],
  ['word', /(?<!\w)(?:ur|ul|ll|lr)(?=\s[1-8](?!\d))/iy],
  ['word', /(?<!\w)(?:quadrant|quad|q)\.?\s?([1-4])(?!\w)/iy],
  ['system', /(?<!\w)(?:ISO|FDI|Universal|Univ|Palmer)(?!\w)\.?/iy],
  ['word', new RegExp(String.raw`(?<![\w])(?:${TOOTH_WORDS.join('|')})s?(?!\w)`, 'iy')],
  ['each', /(?<!\w)([1-8B-E]|A(?=['’]))['’]?s(?!\w)/y],
  ['each', /(?<!\w)[UL]([1-8B-E])['’]?s(?!\w)/y, 'doubt'],
  ['each', /(?<=\b(?:upper|lower|right|left|all|both)\s)(ones)(?!\w)/iy],
  ['each', /(?<!\w)(twos|threes|fours|fives|sixes|sevens|eights)(?!\w)/iy],
  ['number', /(?<=\b(?:right|left|UR|UL|LL|LR)\s)(one|two|three|four|five|six|seven|eight)(?!\w)/iy],
  ['number', /(?<=(?:UR|UL|LL|LR)-?)(\d{2})(?!\w)/y],
  ['number', /(?<![\w.])([1-8]\.[1-8])(?![\w.])/y],
  // days, months, or a man's or a woman's age
  ['number', /(?<!\w)((?:[0-2]?\d|3[01])(?=\s?d(?!\w))|\d{1,2}(?=\s?m(?!\w)))/y, 'doubt'],
  ['number', /(?<=^\s*(?:(?:pt|patient)\s)?)(\d{2})(?=\s?[MF](?![\w/,]))/y, 'doubt'],
  ['number', /(?<!\w)q\.?\s?([1-4][1-8])(?!\w)/iy, 'doubt'],
  [
    'number',
    /(?<!\w)(?:#\s?|[tx×]|(?:no|nr|tooth|teeth)\.?\s)?(?<!\d[.])(?<![A-SU-WYZa-su-wyz])(\d{1,2})(?!\d|[.]\d)(?=[A-Za-z]{0,5}(?!\w))/iy,
  ],
  ['number', /(?<=(?<!\w)(?:tooth|teeth))(\d{1,2})(?!\w)/iy],
  ['number', /(?<=[a-z]{2})(\d{2})(?![\d.])/iy, 'doubt'],
  ['number', /(?<![\w.])(\d{2})(?=[a-z]{2})/iy, 'doubt'],
  ['run', new RegExp(String.raw`(?<![\w.#+-])${ISO}{2,8}(?![\w.-])`, 'y'), 'doubt'],
  ['number', /(?<=\b(?:UR|UL|LL|LR)\s)([A-E])(?=\.)/iy],
  ['number', /(?<![\w.'’-])#?([A-T])(?![\w.'’]|-\w)/y],
  ['number', /(?<![\w.'’-])#?([A-T])(?=-#?[A-T](?![\w-]))/y],
  ['number', /(?<=(?<![\w.'’-])#?[A-T]-#?)([A-T])(?![\w-])/y],
  ['number', /(?<!\w)(?:tooth|teeth)\s([a-t])(?!\w)/iy],
]
const SURFACES_AFTER =
  /[\s-]?([MODBLIPFV](?:[/,][MODBLIPFV]){1,4}|[MODBLIPFV]{1,5}|(?<=\d)(?!mo\b)[modbliv]{2,5}|(?<=\d\s?)[odblm])(?!\w|\s+not\b|\s+NOT\b)/y
// not the Roman figure of a class
const SURFACES_BEFORE = /(?<!\w)(?!I{2,}|IV|VI)([MODBLIPFV]{2,5})\s+(?:(?:on|of|at)\s+)?(?:#\s?|tooth\s)?$/
/** As much of the text as can bear on what stands behind it. */
const BEFORE = 40
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
/** Each surface said once, and no word of its own, as `36 FILL` and `36 OLD`. */
export const isSurfaces = (letters: string): boolean =>
  new Set(letters.replace(/[/,]/g, '')).size === letters.replace(/[/,]/g, '').length &&
  !/^(?:OLD|BOLD|MILD|MOLD|LID|BID|MOB|FOIL|VOID|VIP)$/.test(letters)

/** `MOD` as its surfaces; facial counts as buccal, palatal as lingual. */
export const readSurfaces = (letters: string): Surface[] => [
  ...new Set([...letters.toUpperCase()].flatMap((letter) => SURFACE_OF[letter] ?? [])),
]

/** Between the ends of a bridge, as `14x16`: the same length of text. */
export const BRIDGE = '⇒'
/** Every hyphen, dash and minus as one, wide digits as narrow ones, other signs between numbers as those we know. */
export const plainSigns = (text: string): string =>
  text
    .replace(/[‐-―−]/g, '-')
    .replace(/[０-９]/g, (digit) => digit.normalize('NFKC'))
    .replace(/_/g, ' ')
    .replace(new RegExp(String.raw`(?<![\w.])${ISO}(?:\.${ISO}){2,}(?![\w.])`, 'g'), (run) =>
      run.replaceAll('.', '/'),
    )
    .replace(/(?<=(?<!\w)#?\d{2}\s?)-?[xX×]-?(?=\s?#?\d{2}(?!\w))/g, (cross) => BRIDGE.repeat(cross.length))

/** The pieces of a note in order. What cannot be a tooth (times, amounts, ages, counts) is left out. */
export function findPieces(note: string): Piece[] {
  const text = blankNotTeeth(plainSigns(note))
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

const COUNTED: readonly string[] = ['one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight']
/** `sixes` is 6. */
function positionSaid(value: string): string {
  const at = COUNTED.findIndex((word) => new RegExp(`^${word}(?:e?s)?$`, 'i').test(value))
  return at < 0 ? value : String(at + 1)
}

function pieceAt(text: string, at: number): Piece | null {
  for (const [kind, pattern, doubt] of PATTERNS) {
    const found = matchAt(pattern, text, at)
    if (!found || (kind === 'number' && !doubt && isNoTooth(text, at, found))) continue
    const value = positionSaid(found[1] ?? found[0])
    const piece = { kind, value, text: found[0], at, end: at + found[0].length }
    const whole = withTail(text, piece)
    return { ...whole, doubt: whole.doubt || doubt !== undefined }
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
const SURFACE_LETTERS = /^(?:[MODBLIPFV]{1,5}|[modbliv]{2,5}|[odblm])(?!\w)/

/** A capital that opens a sentence or follows a title, digits that run into a word that is no surface. */
function isNoTooth(text: string, at: number, found: RegExpExecArray): boolean {
  const [whole, value = ''] = found
  const after = text.slice(at + whole.length)
  if (/^\d/.test(value)) return UNIT_AFTER.test(after) && !SURFACE_LETTERS.test(after)
  if (whole !== value || /\b(?:UR|UL|LL|LR)\s$/i.test(text.slice(Math.max(0, at - BEFORE), at))) return false
  const isArticle = (value === 'A' || value === 'I') && LOWER_AFTER.test(after)
  return isArticle || TITLE_BEFORE.test(text.slice(Math.max(0, at - BEFORE), at))
}

type Bare = Omit<Piece, 'surfaces' | 'doubt'>

/** A number with the surfaces and the question mark that follow it. */
function withTail(text: string, piece: Bare): Piece {
  if (piece.kind === 'word' || piece.kind === 'system') return { ...piece, surfaces: [], doubt: false }
  const found = matchAt(SURFACES_AFTER, text, piece.end)
  const after = isSurfaces(found?.[1] ?? '') ? found : null
  const before = SURFACES_BEFORE.exec(text.slice(Math.max(0, piece.at - BEFORE), piece.at))
  const isLetter = /^[A-T]$/.test(piece.value)
  const end = after && !isLetter ? piece.end + after[0].length : piece.end
  const letters = (isLetter ? undefined : after?.[1]) ?? before?.[1] ?? ''
  const doubt = matchAt(DOUBT, text, end) !== null
  return { ...piece, end, surfaces: readSurfaces(letters), doubt }
}

import { type Denied, isFilling, narrowest, RUBBER_THINGS, readDenial } from './denial.ts'
import { correctSlips } from './spelling.ts'
import { type Substance, substancesIn } from './substance.ts'

/**
 * What a statement in free text says. It is a prompt to ask, never a confirmed allergy and never nothing lost:
 * the original words are always shown.
 */
export type StatementReading =
  | { kind: 'empty' }
  /** A way of speaking: no substance is meant. */
  | { kind: 'idiom' }
  /** Denials and nothing else. */
  | { kind: 'denies'; of: Denied }
  | { kind: 'possible'; substances: readonly Substance[] }
  | { kind: 'preference'; substances: readonly Substance[] }
  /** A test or an order about a substance, not an allergy: `latex IgE`. */
  | { kind: 'test'; substances: readonly Substance[] }
  /** Words that no rule reads: a person reads them. */
  | { kind: 'unread' }

/** Texts read before: a board reads the same words again with each change. */
const READ = new Map<string, StatementReading>()
const MOST_READ = 2000

/** Reads one statement. It denies only where each of its stretches does; what warns outweighs what denies. */
export function readStatement(text: string): StatementReading {
  const known = READ.get(text)
  if (known) return known
  if (READ.size >= MOST_READ) READ.clear()
  const reading = readAnew(text)
  READ.set(text, reading)
  return reading
}

/** Whether any stretch of a statement denies, whatever stands beside it. */
export const holdsDenial = (text: string): boolean => takeApart(correctSlips(text)).denied.length > 0

/** Substances named in a text, through slips of spelling. */
export const substancesNamed = (text: string): Substance[] => substancesIn(correctSlips(text))

function readAnew(text: string): StatementReading {
  const words = correctSlips(text).trim()
  if (words === '' || /^[\W_]*$/.test(words)) return { kind: 'empty' }
  const { denied, rest } = takeApart(words)
  const told = rest.filter((stretch) => !isFilling(stretch) && !IDIOM.test(stretch))
  if (told.length > 0) return readTold(told, denied)
  const of = narrowest(denied)
  if (of.length > 0) return { kind: 'denies', of }
  return denied.length === 0 && rest.some((stretch) => IDIOM.test(stretch))
    ? { kind: 'idiom' }
    : { kind: 'unread' }
}

/** Where a statement may be parted, the wider first. What a question mark ends stays in doubt. */
const BREAKS: readonly RegExp[] = [
  /[.;!()[\]\n]|\b(?:but|however|except(?:ing)?(?: for)?|with the exception of|although|though|apart from|aside from|other than|besides|only|unless)\b/,
  /,/,
  /(?<=\?)/,
  /:|\s[-–—/+]+\s|[–—]|\//,
  /\s(?:and|&)\s|\s(?=(?:no|not|denies|denied|nk[dmfl]?a)\b)/,
]

interface Apart {
  denied: Denied[]
  rest: string[]
}

/** The denials of a text, each as wide as it reaches, and the stretches that are none. */
function takeApart(words: string, depth = 0): Apart {
  const denied = readDenial(words)
  if (denied !== null) return { denied: [denied], rest: [] }
  const at = BREAKS[depth]
  if (!at) return { denied: [], rest: words.trim() === '' ? [] : [words.trim()] }
  const parts = words.split(at).map((part) => takeApart(part, depth + 1))
  return { denied: parts.flatMap((part) => part.denied), rest: parts.flatMap(({ rest }) => rest) }
}

const IDIOM =
  /^(?:(?:she|he|is|pt|patient|i|am|i'm|he's|she's)\s)*(?:allergic|allergy) to (?:late |early |any |all |paying |high )?(?:fees?|bills?|mornings?|mondays?|work|pain|dentists?|needles?|paying|waiting|nonsense|exercise)\W*$/
const PREFERENCE = /\b(?:prefers?|preference|preferred|would (?:like|rather)|by choice|dislikes?)\b/
const TEST = /\b(?:ige|rast|skin[- ]prick|titre|titer|serology|patch test)\b/
/** Class 1 and above of specific IgE is a positive result (COMMON); any other figure is for a person to read. */
const RESULT = /\b(?:pos(?:itive)?|raised|elevated|high|reactive|detected|abnormal|class [1-6])\b|\+|\d/
const NO_RESULT =
  /\b(?:not|non)[- ](?:raised|elevated|high|reactive|detected)\b|\bclass 0\b|\d{4}-\d{2}-\d{2}/g

const REACTION =
  /\b(?:itch\w*|tingl\w*|rash(?:es)?|hives|welts|weals|urticaria|swell\w*|swollen|swelled|puff\w*|sneez\w*|breathless|sensitive|sensitivity|sensitised|sensitized|allerg\w+|react\w*|wheez\w*|burn\w*|blister\w*|sore|red|redness|eczema|dermatitis|intoleran\w*|anaphyla\w*|angioedema|collapsed?|epipen)\b/
const CANNOT =
  /\b(?:can'?t|cannot|can not|couldn'?t|unable|(?:not|isn'?t) able|must not|mustn'?t|do not|don'?t|never|tolerat\w*|avoid\w*)\b/
const THING = new RegExp(`\\b(?:${RUBBER_THINGS})\\b`)

/** What is left beside the denials: it is told, and one thing told outweighs them. */
function readTold(told: readonly string[], denied: readonly Denied[]): StatementReading {
  const words = told.join(' ; ')
  const reacted = REACTION.test(words)
  const substances = substancesOf(words)
  if (PREFERENCE.test(words) && !reacted)
    return substances.length > 0 ? { kind: 'preference', substances } : { kind: 'unread' }
  if (substances.length > 0)
    return isTest(told) && !reacted ? { kind: 'test', substances } : { kind: 'possible', substances }
  const doubted = denied.flatMap((of) => (typeof of === 'string' ? [] : of))
  return reacted && doubted.length > 0
    ? { kind: 'possible', substances: [...new Set(doubted)] }
    : { kind: 'unread' }
}

/** Each substance in the words of its test, and no result that is one. */
const isTest = (told: readonly string[]): boolean =>
  !told.some((words) => RESULT.test(words.replace(NO_RESULT, ' '))) &&
  told.every((words) => TEST.test(words) || substancesOf(words).length === 0)

/** Named substances; a reaction to something of rubber, or stuck on the skin, asks about latex as well. */
function substancesOf(words: string): Substance[] {
  const named = substancesIn(words)
  const cue = THING.test(words) && (REACTION.test(words) || CANNOT.test(words))
  return cue && !named.includes('latex') ? ['latex', ...named] : named
}

/** Whether a statement asks about latex: it is not an alert by itself, it is a question to put. */
export const asksLatex = (reading: StatementReading): boolean =>
  reading.kind === 'possible' && reading.substances.includes('latex')
export const asksLatexFood = (reading: StatementReading): boolean =>
  reading.kind === 'possible' && reading.substances.includes('latex-foods')

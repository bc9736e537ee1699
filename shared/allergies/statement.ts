import { type Substance, substancesIn } from './substance.ts'

/**
 * What a statement in free text says. It is a prompt to ask, never a confirmed allergy and never nothing lost:
 * the original words are always shown.
 */
export type StatementReading =
  | { kind: 'empty' }
  /** A way of speaking: no substance is meant. */
  | { kind: 'idiom' }
  | { kind: 'denies'; of: 'everything' | 'drugs' | 'food' | readonly Substance[] }
  | { kind: 'possible'; substances: readonly Substance[] }
  | { kind: 'preference'; substances: readonly Substance[] }
  /** A test or an order about a substance, not an allergy: `latex IgE`. */
  | { kind: 'test'; substances: readonly Substance[] }
  /** Words that no rule reads: a person reads them. */
  | { kind: 'unread' }

/** Usual slips of spelling, put right before anything is read. */
const SPELLINGS: readonly [RegExp, string][] = [
  [/\bla(?:ytex|tecks|tx|text|rex|tax|ttex|itex)\b/gi, 'latex'],
  [/\blat[ae]?xs?\b/gi, 'latex'],
  [/\bruber\b|\brubbers\b/gi, 'rubber'],
  [/\bbaloon(s?)\b|\bballon(s?)\b/gi, 'balloons'],
  [/\bpenn?icill?[ie]?[ae]?n\b|\bpcn\b|\bpen\b(?=\s*(?:vk|allerg))/gi, 'penicillin'],
  [/\bnic?k(?:le|el)s?\b/gi, 'nickel'],
  [/\bchlor?hexid[ie]ne?\b/gi, 'chlorhexidine'],
  [/\bavacado(s?)\b/gi, 'avocado'],
  [/\bal+erg(?:y|ic|ies)\b/gi, 'allergy'],
  [/\bw\//gi, 'with '],
]
const spell = (text: string): string =>
  SPELLINGS.reduce(
    (words, [slip, right]) => words.replace(slip, right),
    text.normalize('NFKC').replaceAll('’', "'"),
  )

const IDIOM =
  /\ballergy to (?:(?:late |early |any |all |paying |high )?(?:fees?|bills?|mornings?|mondays?|work|pain|dentists?|needles?|paying|waiting|nonsense|exercise))\b/i
const ALL_NONE =
  /^\W*(?:nka|nkma|none(?: known)?|nil(?: known)?|no known (?:allergy|allergies)|no allergy|denies allergy|not allergic)\W*$/i
const DRUG_NONE =
  /\b(?:nkda|no known (?:drug|medication|medicine)s? allerg\w*|no (?:drug|medication|medicine)s? allerg\w*)\b/i
const FOOD_NONE = /\b(?:nkfa|no (?:known )?food allerg\w*)\b/i
const TEST = /\b(?:ige|rast|skin[- ]prick|titre|titer|serology|patch test)\b/i
const PREFERENCE = /\b(?:prefers?|would (?:like|rather)|by choice|dislikes?)\b/i

/** Negations that bind the words after them, up to a turn of the sentence. */
const NEGATION = /\b(?:no|not|never|denies|without|negative for|isn't|is not|doesn't|free of|nil|n't)\b/i
const TURN = /[.;,]|\bbut\b|\bhowever\b|\bexcept\b|\balthough\b|\bthough\b/gi
/** Gone by, not denied. */
const PAST = /\b(?:no longer|used to|not any ?more|outgrew|grown out)\b/i
/** "No" that strengthens what follows: `can't wear plasters`, `not tolerated`. */
const CANNOT =
  /\b(?:can'?t|cannot|can not|couldn'?t|must not|mustn'?t|do not|don'?t|never)\s+(?:wear|use|have|touch|tolerate|give|take|eat|stand)\b|\bnot tolerat\w*|\bno (?:latex|rubber|gloves)\s+(?:please|items|products|gloves|in room|to be used)\b|\bavoid\b/i

/** Things that touch the skin and are usually of rubber or stuck on: a reaction to them asks about latex. */
const RUBBER_CUES = /\b(?:gloves?|rubber|balloons?|plasters?|band-aids?|elastic|condoms?|catheters?|dam)\b/i
const REACTION =
  /\b(?:itch\w*|rash|hives|swell\w*|swollen|swelled|sensitive|sensitivity|allergy|react\w*|wheez\w*|burn\w*|blister\w*|sore|red|intoleran\w*|anaphyla\w*|can'?t wear|cannot wear|avoid)\b/i

/** Texts read before: a board reads the same words again with each change. */
const READ = new Map<string, StatementReading>()
const MOST_READ = 2000

/** Reads one statement, part by part; what warns outweighs what denies. */
export function readStatement(text: string): StatementReading {
  const known = READ.get(text)
  if (known) return known
  if (READ.size >= MOST_READ) READ.clear()
  const reading = readAnew(text)
  READ.set(text, reading)
  return reading
}

function readAnew(text: string): StatementReading {
  const words = spell(text).trim()
  if (words === '' || /^[\W_]*$/.test(words)) return { kind: 'empty' }
  if (ALL_NONE.test(words)) return { kind: 'denies', of: 'everything' }
  const readings = words
    .split(TURN)
    .map((part) => part.trim())
    .filter((part) => part !== '')
    .map(readPart)
  return heaviest(readings)
}

const WEIGHT: Record<StatementReading['kind'], number> = {
  possible: 6,
  preference: 5,
  denies: 4,
  test: 3,
  unread: 2,
  idiom: 1,
  empty: 0,
}

/** Substances of all parts that warn are gathered; else the part that says most. */
function heaviest(readings: readonly StatementReading[]): StatementReading {
  const kinds = readings.map((reading) => reading.kind)
  const preferred = kinds.includes('preference')
  const possible = readings.flatMap((reading) => (reading.kind === 'possible' ? reading.substances : []))
  if (kinds.includes('possible') && !preferred)
    return { kind: 'possible', substances: [...new Set(possible)] }
  const denied = readings.flatMap((reading) => (reading.kind === 'denies' ? [reading.of] : []))
  if (denied.length > 1) return { kind: 'denies', of: narrowest(denied) }
  return readings.reduce<StatementReading>(
    (most, reading) => (WEIGHT[reading.kind] > WEIGHT[most.kind] ? reading : most),
    { kind: 'empty' },
  )
}

type Denied = Extract<StatementReading, { kind: 'denies' }>['of']
/** Several denials together say no more than the narrowest of them. */
const narrowest = (denied: readonly Denied[]): Denied => {
  const named = denied.flatMap((of) => (typeof of === 'string' ? [] : of))
  if (named.length > 0) return [...new Set(named)]
  return denied.find((of) => of !== 'everything') ?? 'everything'
}

/** Set phrases, and what they say by themselves. What stands beside them is read on its own. */
const PHRASES: readonly [RegExp, StatementReading][] = [
  [IDIOM, { kind: 'idiom' }],
  [DRUG_NONE, { kind: 'denies', of: 'drugs' }],
  [FOOD_NONE, { kind: 'denies', of: 'food' }],
]

function readPart(part: string): StatementReading {
  for (const [phrase, says] of PHRASES) {
    if (!phrase.test(part)) continue
    const beside = readPart(part.replace(phrase, ' '))
    return beside.kind === 'possible' ? beside : says
  }
  if (ALL_NONE.test(part)) return { kind: 'denies', of: 'everything' }
  const substances = substancesOf(part)
  if (PREFERENCE.test(part)) {
    return substances.length > 0 || /\ballerg/i.test(part)
      ? { kind: 'preference', substances }
      : { kind: 'unread' }
  }
  if (substances.length === 0) return { kind: 'unread' }
  if (TEST.test(part) && !/\bpositive\b/i.test(part)) return { kind: 'test', substances }
  if (CANNOT.test(part) || PAST.test(part)) return { kind: 'possible', substances }
  return isDenied(part) ? { kind: 'denies', of: substances } : { kind: 'possible', substances }
}

/** Named substances; a reaction to something of rubber, or stuck on the skin, asks about latex as well. */
function substancesOf(part: string): Substance[] {
  const named = substancesIn(part)
  const cue = RUBBER_CUES.test(part) && (REACTION.test(part) || CANNOT.test(part))
  return cue && !named.includes('latex') ? ['latex', ...named] : named
}

/** A negation that stands before the substance or the reaction. */
function isDenied(part: string): boolean {
  const at = part.search(NEGATION)
  return (
    at >= 0 &&
    !/\b(?:not sure|not tested|never tested|never asked|untested|no idea|not asked|unknown|don'?t know)\b/i.test(
      part,
    )
  )
}

/** Whether a statement asks about latex: it is not an alert by itself, it is a question to put. */
export const asksLatex = (reading: StatementReading): boolean =>
  reading.kind === 'possible' && reading.substances.includes('latex')
export const asksLatexFood = (reading: StatementReading): boolean =>
  reading.kind === 'possible' && reading.substances.includes('latex-foods')

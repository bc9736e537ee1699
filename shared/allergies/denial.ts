import { SUBSTANCE_FAMILIES, SUBSTANCES, type Substance, substancesIn } from './substance.ts'

/** What a denial speaks of; an empty list where it names things that belong to no family of ours. */
export type Denied = 'everything' | 'drugs' | 'food' | readonly Substance[]

/** Things that touch the skin and are often of rubber or stuck on; they are no substance by themselves. */
export const RUBBER_THINGS = 'gloves|rubber|balloons?|plasters?|elastics?|condoms?|catheters?|dam'

const anyOf = (names: readonly string[]): string =>
  [...names]
    .sort((a, b) => b.length - a.length)
    .map((name) => name.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'))
    .join('|')
const MEMBERS = anyOf(SUBSTANCES.flatMap((key) => SUBSTANCE_FAMILIES[key].members))
const NOT = `(?: not|n'?t)`

/** Words that a denial is made of, each with the letter it has in `FORMS`; tried in order. */
const LEXICON: readonly [string, string][] = [
  ['Z', 'nk[dmfl]?a'],
  [
    'h',
    `(?:does|do|did)${NOT} (?:have|get|suffer from)|(?:has|have|had)${NOT}(?: had| got)?|never (?:had|has|have)`,
  ],
  ['v', `(?:does|do|did)${NOT}`],
  ['t', `(?:is|are|was)${NOT}|not|never`],
  ['n', 'no|without|negative for'],
  ['d', 'denies|denied|denying'],
  ['z', 'none|nil'],
  ['w', 'known(?! to be)'],
  ['k', 'known to be|to be|history of|any|an?|the|all|previous|prior|past|been'],
  ['A', 'allergy'],
  ['a', 'allergic|sensitive'],
  ['R', 'reactions?|sensitivit(?:y|ies)|intolerances?'],
  ['r', 'react(?:s|ed)?'],
  ['T', 'to|with|from'],
  ['E', 'anything'],
  ['D', 'drugs?|medications?|medicines?|meds?'],
  ['O', 'foods?'],
  ['S', `(?:${MEMBERS}|${RUBBER_THINGS})`],
  ['o', 'or|nor'],
  [
    'f',
    String.raw`pt|patient|client|child|parent|mum|mother|dad|father|carer|guardian|she|he|they|i|has|have|had|is|are|was|am|got|says|said|states|stated|reports|confirms|confirmed|asked|checked|reviewed|on|that|there|today|at all|whatsoever|either|ever|\d{4}-\d{2}-\d{2}`,
  ],
]
const WORDS = LEXICON.map(([letter, words]) => ({
  letter,
  pattern: new RegExp(`(?:${words})(?![\\p{L}\\p{N}])`, 'uy'),
}))
const POINTS = /[:=?,/]/

/** Latex or penicillin – to latex, penicillin or nickel. "And" may end the denial, so it asks. */
const OF = '[SDO](?:o[SDO])*'
const LISTED = '[SDO](?:(?:,[SDO])*,?o[SDO])*'
const NOUN = '(?:A|a?R)'
const NOUNS = `${NOUN}(?:[o/](?:${OF})?${NOUN})*`
const TO = `T[kw]*(?:${LISTED}|E)`

/**
 * The forms of a denial: the negation binds the allergy itself. "No latex" is an order, "doesn't tolerate latex" a
 * warning: neither is among them. Of two places for the substance one is filled: "no latex, allergy to penicillin".
 */
const FORMS: readonly string[] = [
  `[nhd][kw]*(?:${OF})?${NOUNS}w?`, // no known latex allergy · denies allergies · doesn't have any allergies
  `[nhd][kw]*${NOUNS}w?${TO}`, // no allergy to latex, penicillin or nickel
  `dk*${OF}`, // denies latex
  `tk*(?:${OF})?a|tk*A`, // not latex allergic · not an allergy
  `tk*a(?:oa)*${TO}`, // not allergic to latex
  `[tvh]r${TO}`, // does not react to latex
  `(?:${OF})?${NOUNS}(?:${TO})?(?:[:?]n|[:?]?(?:zw?|d)|[:?](?:nw|ta))`, // latex allergy: none
  `${OF}:(?:nw${NOUN}?|zw|d|ta)`, // latex: not allergic
  'zw?|nw', // none known
  'Z(?:[o/,]?Z)*', // NKA
]
const DENIAL = new RegExp(`^(?:A:)?(?:${FORMS.join('|')})$`)

interface Token {
  letter: string
  text: string
}

/**
 * What a stretch of corrected text denies; null where it is not, word for word and as a whole, a denial. One word
 * that the forms do not know, and it is none.
 */
export function readDenial(stretch: string): Denied | null {
  const tokens = trimFilling(joinNames(findTokens(stretch)))
  if (!DENIAL.test(tokens.map(({ letter }) => letter).join(''))) return null
  return deniedOf(tokens)
}

/** Nothing but who said it and when. */
export const isFilling = (stretch: string): boolean =>
  findTokens(stretch).every(({ letter }) => letter === 'f' || POINTS.test(letter))

function findTokens(stretch: string): Token[] {
  const tokens: Token[] = []
  let at = 0
  while (at < stretch.length) {
    const token = tokenAt(stretch, at)
    if (token) tokens.push(token)
    at += token ? token.text.length : 1
  }
  return tokens
}

function tokenAt(stretch: string, at: number): Token | null {
  const point = stretch.charAt(at)
  if (POINTS.test(point)) return { letter: point === '=' ? ':' : point, text: point }
  // “latex allergy - no”
  if (/^\s[-–—]\s$/.test(stretch.slice(at - 1, at + 2))) return { letter: ':', text: point }
  for (const { letter, pattern } of WORDS) {
    pattern.lastIndex = at
    const text = pattern.exec(stretch)?.[0]
    if (text) return { letter, text }
  }
  const other = /[\p{L}\p{N}'+]+/uy
  other.lastIndex = at
  const text = other.exec(stretch)?.[0]
  return text ? { letter: 'x', text } : null
}

/** "Latex gloves", "rubber dam": one thing in two words. Any others side by side are two, and no list. */
function joinNames(tokens: readonly Token[]): Token[] {
  const joined: Token[] = []
  for (const token of tokens) {
    const last = joined.at(-1)
    if (last?.letter === 'S' && token.letter === 'S' && isOneThing(last.text, token.text))
      joined[joined.length - 1] = { letter: 'S', text: `${last.text} ${token.text}` }
    else joined.push(token)
  }
  return joined
}

const THING = new RegExp(`^(?:${RUBBER_THINGS})$`)
const isOneThing = (one: string, other: string): boolean =>
  one !== other && substancesIn(one).includes('latex') && THING.test(other)

function trimFilling(tokens: readonly Token[]): Token[] {
  const isSaid = ({ letter }: Token): boolean => letter !== 'f'
  return tokens.slice(Math.max(tokens.findIndex(isSaid), 0), tokens.findLastIndex(isSaid) + 1)
}

const SHORT: Record<string, Denied> = {
  nka: 'everything',
  nkda: 'drugs',
  nkma: 'drugs',
  nkfa: 'food',
  nkla: ['latex'],
}

/** "No reaction" or "not sensitive" without its cause denies nothing that can be named. */
function deniedOf(tokens: readonly Token[]): Denied | null {
  const short = tokens.flatMap(({ letter, text }) => (letter === 'Z' ? [SHORT[text] ?? []] : []))
  if (short.length > 0) return narrowest(short)
  const named = tokens.filter(({ letter }) => letter === 'S').map(({ text }) => text)
  if (named.length > 0) return [...new Set(named.flatMap(substancesIn))]
  const letters = tokens.map(({ letter }) => letter).join('')
  if (letters.includes('D')) return 'drugs'
  if (letters.includes('O')) return 'food'
  const isOfAllergy = tokens.some(({ text }) => text === 'allergy' || text === 'allergic')
  return isOfAllergy || /z|^nw$/.test(letters) ? 'everything' : null
}

/** Several denials together say no more than the narrowest of them. */
export function narrowest(denied: readonly Denied[]): Denied {
  const named = denied.flatMap((of) => (typeof of === 'string' ? [] : of))
  if (named.length > 0) return [...new Set(named)]
  const said = denied.filter((of) => typeof of === 'string')
  return said.find((of) => of !== 'everything') ?? said[0] ?? []
}

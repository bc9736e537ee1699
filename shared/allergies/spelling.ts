import { SUBSTANCE_FAMILIES, SUBSTANCES } from './substance.ts'

/** Slips of more than a letter, and short ways of writing, put right before anything is read. */
const SPELLINGS: readonly [RegExp, string][] = [
  [/\bla(?:y?t+[aei](?:x|ks|cks|cs)+e?s?|tax)\b/g, 'latex'],
  [/\brub+ers?\b/g, 'rubber'],
  [/\bbal+oons?\b|\bballons?\b/g, 'balloons'],
  [/\bgloves?\b/g, 'gloves'],
  [/\bpenn?i(?:c[a-z]*)?\b|\bpcn\b|\bpen\b(?=\s*(?:vk|allerg))/g, 'penicillin'],
  [/\bamox[iy]?(?:c[iy]l*[iy]n)?\b/g, 'amoxicillin'],
  [/\bnic?k(?:le|el|al)s?\b/g, 'nickel'],
  [/\bchlor?hexid[ie]ne?\b/g, 'chlorhexidine'],
  [/\bal+[eu]rg(?:y|ies|ys|ie)\b(?:\((?:s|ies)\))?/g, 'allergy'],
  [/\bal+[eu]rgi[ck]k?\b/g, 'allergic'],
  [/\bnon-(?=latex|rubber)/g, 'non '],
  [/\bnon-? ?allergic\b/g, 'not allergic'],
  [/\b(?:h\/o|hx of?|hx)(?= )/g, 'history of'],
  [/\bn[. ]?k[. ]?([dmfl]?)[. ]?a\b/g, 'nk$1a'],
  [/\bw\//g, 'with '],
]

/** Names long enough that one wrong letter still tells them from any other word; latex is asked of most. */
const LONG = SUBSTANCES.flatMap((key) => SUBSTANCE_FAMILIES[key].members).filter((name) =>
  /^[a-z]{7,}$/.test(name),
)
const NAMES: readonly string[] = ['latex', ...LONG]
const IS_NAME: ReadonlySet<string> = new Set(NAMES)
const OTHER_WORDS: ReadonlySet<string> = new Set(['late', 'later', 'lates', 'plastered'])

/**
 * A statement in lower case, without accents, its usual slips put right: a letter wrong, missing, doubled or
 * swapped in the name of a substance, and the spellings that people use.
 */
export function correctSlips(text: string): string {
  const plain = text
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/[’‘`´]/g, "'")
    .replace(/[‐‑−]/g, '-')
    .toLowerCase()
  const spelt = SPELLINGS.reduce((words, [slip, right]) => words.replace(slip, right), plain)
  return spelt.replace(/[a-z]{4,}/g, (word) => nameMeant(word) ?? word)
}

const nameMeant = (word: string): string | undefined =>
  IS_NAME.has(word) || OTHER_WORDS.has(word) ? undefined : NAMES.find((name) => isOneSlipFrom(name, word))

/** One letter more, less or other, or two neighbours swapped. */
function isOneSlipFrom(name: string, word: string): boolean {
  if (Math.abs(name.length - word.length) > 1) return false
  let head = 0
  while (head < name.length && name[head] === word[head]) head += 1
  let tail = 0
  while (tail < Math.min(name.length, word.length) - head && name.at(-1 - tail) === word.at(-1 - tail))
    tail += 1
  const [left, other] = [name.slice(head, name.length - tail), word.slice(head, word.length - tail)]
  if (left.length <= 1 && other.length <= 1) return true
  return left.length === 2 && left === other.split('').reverse().join('')
}

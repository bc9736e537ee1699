import type { Notation } from '../teeth/notation-names.ts'
import { parseTeeth } from '../teeth/parse-teeth.ts'
import { patternOf } from './recognise.ts'
import type { OwnWord } from './work.ts'

/** One spelling of words that a clinic teaches: lower case, single spaces, no points at the ends. */
export const plainWords = (text: string): string =>
  text
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[\s.,;:/+-]+/g, ' ')
    .trim()

const MOST = 60
/** Words must hold a stretch of letters by which they can be told again: `zf`, not `46` nor `-`. */
export const canTeach = (words: string): boolean => /\p{L}{2,}/u.test(words) && words.length <= MOST

/** As much of the words, from the first, as can be taught; null where they hold nothing by which to tell them again. */
export function teachable(words: string): string | null {
  if (words.length <= MOST) return canTeach(words) ? words : null
  const cut = words.slice(0, MOST + 1).replace(/\s?\S*$/, '')
  return canTeach(cut) ? cut : null
}

/** What is left of a line of work without its teeth, surfaces and figures: the words that might be taught. */
export function wordsOfWork(text: string, notation: Notation): string {
  const withoutTeeth = parseTeeth(text, notation).mentions.reduce(
    (left, mention) => left.replace(mention.text, ' '),
    text,
  )
  const plain = withoutTeeth
    .replace(/(?<![\p{L}\p{N}])[MODBLVIFP]{1,5}(?![\p{L}\p{N}])/gu, ' ')
    .replace(/[()[\]#?!"']/g, ' ')
    .split(/[\s.,;:/+-]+/)
    .filter((word) => !/\d/.test(word))
    .join(' ')
  return plainWords(plain)
}

/** Those of the clinic's own words that stand in a line of work. */
export const ownWordsIn = (text: string, own: readonly OwnWord[]): OwnWord[] =>
  own.filter(({ words }) => patternOf(words).test(text))

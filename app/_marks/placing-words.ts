import { toothIn } from '#app/_ui/teeth-words.ts'
import { dateWords } from '#app/_ui/time-words.ts'
import type { PastPlacing } from '#shared/isolation/past.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'

const GUM_WORDS: Record<PastPlacing['outcome']['gum'], string> = {
  sound: 'gum sound',
  marked: 'gum marked',
  injured: 'gum injured',
  'not-looked': 'gum not looked at',
}

/** `12 Nov 2026: 47 46 45, clamp on 47, gum sound, 4 min, re-tried once`. */
export function placingWords(
  { day, field, clamps, outcome, minutes }: PastPlacing,
  notation: Notation,
): string {
  const said = (teeth: readonly PastPlacing['field'][number][]) =>
    teeth.map((tooth) => toothIn(tooth, notation)).join(' ')
  const parts = [
    said(field),
    clamps.length === 0 ? 'no clamp' : `clamp on ${said(clamps.map(({ tooth }) => tooth))}`,
    GUM_WORDS[outcome.gum],
    ...(minutes === null ? [] : [`${minutes} min`]),
    ...(outcome.leak ? ['leaked'] : []),
    ...(outcome.tear ? ['tore'] : []),
    ...(outcome.retries === 0 ? [] : [`tried again ${outcome.retries} ×`]),
  ]
  return `${dateWords(day)}: ${parts.join(', ')}`
}

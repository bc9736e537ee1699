import type { Seen } from '#app/_live/seen.ts'
import { Card } from '#app/_ui/card.tsx'
import { FindingLine } from '#app/_ui/finding-line.tsx'
import { toothIn } from '#app/_ui/teeth-words.ts'
import { dateWords } from '#app/_ui/time-words.ts'
import { judgePast, type PastPlacing } from '#shared/isolation/past.ts'
import { clampedTeeth } from '#shared/readiness/judges.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'
import styles from './plan.module.css'

const SHOWN = 3

/** How earlier sheets went on this patient: where the clamp sat, and how the gum was left. */
export function LastTime({ seen, past }: { seen: Seen; past: readonly PastPlacing[] }) {
  if (past.length === 0) return null
  return (
    <Card title="At earlier visits" tone="plain">
      <ul className={styles.findings}>
        {judgePast(past, clampedTeeth(seen.facts)).map((finding) => (
          <li key={finding.about}>
            <FindingLine finding={finding} />
          </li>
        ))}
        {past.slice(0, SHOWN).map((each) => (
          <li key={each.id}>{placingWords(each, seen.notation)}</li>
        ))}
      </ul>
    </Card>
  )
}

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

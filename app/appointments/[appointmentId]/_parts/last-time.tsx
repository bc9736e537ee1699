import type { Seen } from '#app/_live/seen.ts'
import { placingWords } from '#app/_marks/placing-words.ts'
import { Card } from '#app/_ui/card.tsx'
import type { PastPlacing } from '#shared/isolation/past.ts'
import styles from './plan.module.css'

const SHOWN = 3

/** How earlier sheets went on this patient: where the clamp sat, and how the gum was left. */
export function LastTime({ seen, past }: { seen: Seen; past: readonly PastPlacing[] }) {
  if (past.length === 0) return null
  return (
    <Card title="At earlier visits" tone="plain">
      <ul className={styles.findings}>
        {past.slice(0, SHOWN).map((each) => (
          <li key={each.id}>{placingWords(each, seen.notation)}</li>
        ))}
      </ul>
    </Card>
  )
}

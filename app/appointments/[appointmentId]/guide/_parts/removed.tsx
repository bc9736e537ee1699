'use client'
import type { Seen } from '#app/_live/seen.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { isUncounted } from '#shared/readiness/counting.ts'
import { CountOut } from '../../_parts/leave-acts.tsx'
import styles from './guide.module.css'

/** All steps of taking off are done: what came out is counted and the gum is said. */
export function Removed({ seen }: { seen: Seen }) {
  const performing = usePerform()
  const { visit, asPlaced } = seen.facts
  if (visit?.counts && !isUncounted(seen.facts)) {
    return <p className={styles.recorded}>✓ Counted out by {seen.nameOf(visit.counts.by)}.</p>
  }
  if (asPlaced.length === 0) return <p>Nothing is recorded as placed, so there is nothing to count yet.</p>
  return (
    <section className={styles.outcome} aria-label="Count">
      <CountOut seen={seen} performing={performing} />
      <OutcomeBox outcome={performing.outcome} />
    </section>
  )
}

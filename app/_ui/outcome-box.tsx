'use client'
import type { Outcome } from '#app/_live/use-perform.ts'
import { FindingLine } from './finding-line.tsx'
import styles from './trouble-box.module.css'
import { TroubleBox } from './trouble-box.tsx'
import { WhoLine } from './who-line.tsx'

/** Why the last command was not done, beside the place where it was asked; nothing when it was. */
export function OutcomeBox({ outcome }: { outcome: Outcome | null }) {
  if (outcome === null || outcome.kind === 'done') return null
  if (outcome.kind === 'trouble') return <TroubleBox trouble={outcome.trouble} />
  return (
    <div className={styles.box} data-level="stop" role="alert">
      <strong>Not done. Nothing was changed.</strong>
      <ul className={styles.list}>
        {outcome.findings.map((finding) => (
          <li key={`${finding.rule} ${finding.about}`}>
            <FindingLine finding={finding} />
            <WhoLine finding={finding} />
          </li>
        ))}
      </ul>
    </div>
  )
}

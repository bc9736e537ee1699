'use client'
import { createContext, useContext, useRef, useState } from 'react'
import type { Outcome } from '#app/_live/use-perform.ts'
import type { Finding } from '#shared/finding.ts'
import { Button } from './button.tsx'
import { keyed, matterOf } from './finding-keys.ts'
import { FindingLine } from './finding-line.tsx'
import styles from './trouble-box.module.css'
import { TroubleBox } from './trouble-box.tsx'
import { WhoLine } from './who-line.tsx'

/** What stands open where a box is shown; null where that is not known. What is mended leaves the box by itself. */
export const OpenFindings = createContext<readonly Finding[] | null>(null)

/**
 * Why the last command was not done, beside the place where it was asked; nothing when it was, or once it is mended.
 * What was kept and yet holds is told as well, where nothing that stands open tells it.
 */
export function OutcomeBox({ outcome }: { outcome: Outcome | null }) {
  const [dismissed, setDismissed] = useState<Outcome | null>(null)
  const left = useLeft(outcome)
  if (outcome === null || outcome === dismissed) return null
  const dismiss = (
    <Button size="small" onPress={() => setDismissed(outcome)}>
      Dismiss
    </Button>
  )
  if (outcome.kind === 'trouble') {
    return (
      <>
        <TroubleBox trouble={outcome.trouble} />
        {dismiss}
      </>
    )
  }
  if (left.length === 0) return null
  return (
    <div className={styles.box} data-level="stop" role="alert">
      <strong>
        {outcome.kind === 'done' ? 'This is kept, and it holds.' : 'Not done. Nothing was changed.'}
      </strong>
      <ul className={styles.list}>
        {keyed(left).map(({ key, finding }) => (
          <li key={key}>
            <FindingLine finding={finding} />
            <WhoLine finding={finding} />
          </li>
        ))}
      </ul>
      {dismiss}
    </div>
  )
}

/**
 * The findings of a refusal without those that stood open after it and no longer do; of what was done, the stops that
 * stand open nowhere.
 */
function useLeft(outcome: Outcome | null): Finding[] {
  const open = useContext(OpenFindings)
  const stood = useRef<{ of: Outcome | null; keys: Set<string> }>({ of: null, keys: new Set() })
  if (outcome === null || outcome.kind === 'trouble') return []
  if (outcome.kind === 'done') {
    const standing = new Set((open ?? []).map(matterOf))
    return outcome.findings.filter((each) => each.level === 'stop' && !standing.has(matterOf(each)))
  }
  if (open === null) return outcome.findings
  if (stood.current.of !== outcome) stood.current = { of: outcome, keys: new Set() }
  const now = new Set(open.map(matterOf))
  for (const key of now) stood.current.keys.add(key)
  return outcome.findings.filter(
    (finding) => now.has(matterOf(finding)) || !stood.current.keys.has(matterOf(finding)),
  )
}

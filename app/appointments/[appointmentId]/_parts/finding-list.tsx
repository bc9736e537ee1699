'use client'
import type { Seen } from '#app/_live/seen.ts'
import { Card } from '#app/_ui/card.tsx'
import { keyed } from '#app/_ui/finding-keys.ts'
import { FindingLine } from '#app/_ui/finding-line.tsx'
import type { Finding } from '#shared/finding.ts'
import { isStep } from '#shared/readiness/steps.ts'
import { Answers } from './answers.tsx'
import { findingsFor } from './findings-for.ts'
import { PassOver } from './pass-over.tsx'
import styles from './plan.module.css'

/** What stands open, gravest first; then the ordinary steps still to come; then what is only told. */
export function FindingList({ seen }: { seen: Seen }) {
  const findings = findingsFor(seen)
  const steps = findings.filter(({ rule }) => isStep(rule))
  const open = findings.filter(({ rule, level }) => level !== 'note' && !isStep(rule))
  const notes = findings.filter(({ level }) => level === 'note')
  return (
    <>
      <Part title="Open questions" findings={open} seen={seen} />
      <Part title="Still to do at the chair" findings={steps} seen={seen} quiet />
      <Part title="To know" findings={notes} seen={seen} />
    </>
  )
}

interface PartProps {
  title: string
  findings: Finding[]
  seen: Seen
  quiet?: boolean
}

function Part({ title, findings, seen, quiet = false }: PartProps) {
  if (findings.length === 0) return null
  return (
    <Card title={title} tone="plain">
      <ul className={styles.findings}>
        {keyed(findings).map(({ key, finding }) => (
          <li key={key}>
            <FindingLine finding={finding} quiet={quiet} />
            <Answers finding={finding} seen={seen} />
            <PassOver finding={finding} seen={seen} />
          </li>
        ))}
      </ul>
    </Card>
  )
}

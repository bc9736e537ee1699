'use client'
import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Card } from '#app/_ui/card.tsx'
import { Field } from '#app/_ui/field.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import type { ImportProblem } from '#shared/schedule/import-batch.ts'
import styles from '../../_parts/day.module.css'

/** Rows that could not be taken, in their own words, until someone says what was done about them. */
export function SettleList({ waiting }: { waiting: ImportProblem[] }) {
  const performing = usePerform()
  return (
    <Card title={`Rows to settle: ${waiting.length}`}>
      {waiting.length === 0 ? <p className={styles.small}>None.</p> : null}
      <OutcomeBox outcome={performing.outcome} />
      <ul className={styles.rows}>
        {waiting.map((problem) => (
          <SettleRow key={problem.id} problem={problem} performing={performing} />
        ))}
      </ul>
    </Card>
  )
}

interface SettleRowProps {
  problem: ImportProblem
  performing: ReturnType<typeof usePerform>
}

function SettleRow({ problem, performing }: SettleRowProps) {
  const router = useRouter()
  const [note, setNote] = useState('')
  return (
    <li className={styles.problem}>
      <strong>
        Line {problem.line}, {problem.field}
      </strong>
      <p>{problem.text}</p>
      <code>{problem.original}</code>
      <div className={styles.settling}>
        <Field label="What was done about it" value={note} onChange={setNote} />
        <ActButton
          kind="import.settle"
          input={{ problemId: problem.id, appointmentId: null, note }}
          performing={performing}
          isDisabled={note.trim() === ''}
          done="Settled, and kept with its words."
          onDone={() => router.refresh()}
        >
          Settled
        </ActButton>
      </div>
    </li>
  )
}

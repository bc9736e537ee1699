'use client'
import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Card } from '#app/_ui/card.tsx'
import { Field } from '#app/_ui/field.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { whenWords } from '#app/_ui/time-words.ts'
import type { Zone } from '#shared/base/moment.ts'
import type { ImportBatch, ImportProblem, ImportSource } from '#shared/schedule/import-batch.ts'
import styles from '../../_parts/day.module.css'

/** The runs and sources of the rows that wait, by which each says where it came from. */
export interface Origins {
  batches: ImportBatch[]
  sources: ImportSource[]
  zone: Zone
}

/** Rows that could not be taken, in their own words, until someone says what was done about them. */
export function SettleList({ waiting, origins }: { waiting: ImportProblem[]; origins: Origins }) {
  const performing = usePerform()
  return (
    <Card title={`Rows to settle: ${waiting.length}`}>
      {waiting.length === 0 ? <p className={styles.small}>None.</p> : null}
      <OutcomeBox outcome={performing.outcome} />
      <ul className={styles.rows}>
        {waiting.map((problem) => (
          <SettleRow
            key={problem.id}
            problem={problem}
            from={sayOrigin(problem, origins)}
            performing={performing}
          />
        ))}
      </ul>
    </Card>
  )
}

/** `Diary export, monday.csv, read in 24 Nov 2026 08:40`. */
function sayOrigin({ batchId }: ImportProblem, { batches, sources, zone }: Origins): string {
  const batch = batches.find(({ id }) => id === batchId)
  if (!batch) return 'From a run that is not kept'
  const source = sources.find(({ id }) => id === batch.sourceId)
  return `${source ? `${source.name}, ` : ''}${batch.fileName}, read in ${whenWords(batch.at, zone)}`
}

interface SettleRowProps {
  problem: ImportProblem
  from: string
  performing: ReturnType<typeof usePerform>
}

function SettleRow({ problem, from, performing }: SettleRowProps) {
  const router = useRouter()
  const [note, setNote] = useState('')
  return (
    <li className={styles.problem}>
      <strong>
        Line {problem.line}, {problem.field}
      </strong>
      <span className={styles.small}>{from}</span>
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

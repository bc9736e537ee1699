'use client'
import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { type Performing, usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Card } from '#app/_ui/card.tsx'
import { Field } from '#app/_ui/field.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import type { AppointmentId } from '#shared/ids.ts'
import { nameWork } from '#shared/procedures/catalogue.ts'
import { type OwnWord, PROCEDURE_KINDS, type ProcedureKind } from '#shared/procedures/work.ts'
import styles from '../../_parts/day.module.css'

/** Words of appointments to come that name no kind of work. */
export interface UnreadWords {
  words: string
  examples: string[]
  appointmentIds: AppointmentId[]
}

/** As many appointments as one command reads again; the others follow when their file comes again. */
const READ_AGAIN = 500

const KINDS = PROCEDURE_KINDS.map((value) => ({ value, label: nameWork(value) })).sort((a, b) =>
  a.label.localeCompare(b.label),
)

/** What the lists say and nobody has explained yet, asked once for all lines; and what has been taught. */
export function WordsPart({ unread, own }: { unread: UnreadWords[]; own: OwnWord[] }) {
  const performing = usePerform()
  const router = useRouter()
  return (
    <Card title={`Words that say nothing here yet: ${unread.length}`}>
      {unread.length === 0 ? <p className={styles.small}>None.</p> : null}
      <OutcomeBox outcome={performing.outcome} />
      <ul className={styles.rows}>
        {unread.map((each) => (
          <UnreadRow key={each.words} unread={each} performing={performing} />
        ))}
      </ul>
      {own.length > 0 ? (
        <details>
          <summary className={styles.more}>The clinic’s own words: {own.length}</summary>
          <ul className={styles.rows}>
            {own.map(({ id, words, kind }) => (
              <li key={id} className={styles.known}>
                <span>
                  “{words}” is {nameWork(kind)}
                </span>
                <ActButton
                  kind="words.forget"
                  input={{ ownWordId: id }}
                  performing={performing}
                  done={`“${words}” says nothing again. What was read by it stands.`}
                  onDone={() => router.refresh()}
                  aria-label={`Forget ${words}`}
                >
                  Forget
                </ActButton>
              </li>
            ))}
          </ul>
        </details>
      ) : null}
    </Card>
  )
}

function UnreadRow({ unread, performing }: { unread: UnreadWords; performing: Performing }) {
  const router = useRouter()
  const [words, setWords] = useState(unread.words)
  const [kind, setKind] = useState<ProcedureKind | ''>('')
  const { examples, appointmentIds } = unread
  return (
    <li className={styles.problem}>
      <strong>{examples.map((text) => `“${text}”`).join(', ')}</strong>
      <p className={styles.small}>
        {appointmentIds.length === 1 ? '1 line' : `${appointmentIds.length} lines`} of appointments to come
      </p>
      <div className={styles.known}>
        <Field label="These words" value={words} onChange={setWords} />
        <Pick<ProcedureKind | ''>
          label="mean here"
          value={kind}
          options={[{ value: '', label: 'not said' }, ...KINDS]}
          onPick={setKind}
        />
        <ActButton
          kind="words.teach"
          input={{ words, kind: kind || 'other', appointmentIds: appointmentIds.slice(0, READ_AGAIN) }}
          performing={performing}
          isDisabled={kind === ''}
          done={`“${words}” is known from now on.`}
          onDone={() => router.refresh()}
          aria-label={`Teach ${words}`}
        >
          Remember
        </ActButton>
      </div>
    </li>
  )
}

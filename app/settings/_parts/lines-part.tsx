'use client'
import { useState } from 'react'
import { usePerform } from '#app/_live/use-perform.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Field } from '#app/_ui/field.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import { type ClinicLine, LINE_KINDS, type LineKind } from '#shared/people/policy-set.ts'
import { LINES } from '#shared/readiness/lines.ts'
import { LINE_WORDS } from '#shared/words/en/readiness.ts'
import styles from './settings.module.css'
import { SourceWords } from './source-words.tsx'

/** What the clinic has asked before the needle, by its own line. The dentist decides; nothing here is a verdict. */
export function LinesPart() {
  const { world } = useWorld()
  const performing = usePerform()
  const standing = world.policySet[0]?.lines ?? []
  const [draft, setDraft] = useState<ClinicLine[] | null>(null)
  const lines = draft ?? standing
  const set = (kind: LineKind, line: ClinicLine | null) =>
    setDraft(
      LINE_KINDS.flatMap((each) => (each === kind ? line : lines.find((one) => one.kind === each)) ?? []),
    )
  const isWhole = lines.every(({ words }) => words.trim() !== '')
  const isChanged = draft !== null && JSON.stringify(draft) !== JSON.stringify(standing)
  return (
    <>
      <p>
        What is asked or measured before the needle, and from where on the dentist is asked. What is printed
        stands beside it; authorities differ, so the line is your own. Without a line nobody is asked.
      </p>
      {LINE_KINDS.map((kind) => (
        <OneLine
          key={kind}
          kind={kind}
          line={lines.find((each) => each.kind === kind) ?? null}
          onLine={(line) => set(kind, line)}
        />
      ))}
      <div className={styles.save}>
        <ActButton
          kind="lines.set"
          input={{ lines: lines.map((line) => ({ ...line, words: line.words.trim() })) }}
          performing={performing}
          size="main"
          tone="ink"
          isDisabled={!isChanged || !isWhole}
          done="The lines are kept."
          onDone={() => setDraft(null)}
        >
          Keep these lines
          <small>
            {isWhole ? (isChanged ? 'not kept yet' : 'as they stand') : 'say each line in words first'}
          </small>
        </ActButton>
      </div>
      <OutcomeBox outcome={performing.outcome} />
    </>
  )
}

interface OneLineProps {
  kind: LineKind
  line: ClinicLine | null
  onLine: (line: ClinicLine | null) => void
}

function OneLine({ kind, line, onLine }: OneLineProps) {
  return (
    <section aria-labelledby={kind} className={styles.part}>
      <h2 id={kind}>{LINE_WORDS[kind]}</h2>
      <p>{LINES[kind].asks}.</p>
      <ul className={styles.list}>
        {LINES[kind].printed.map(({ says, source }) => (
          <li key={source.where}>
            {says}: <SourceWords source={source} />
          </li>
        ))}
      </ul>
      {line === null ? (
        <Button onPress={() => onLine({ kind, when: 'by-history', words: '' })}>
          Ask it here
          <small>{LINE_WORDS[kind].toLowerCase()}</small>
        </Button>
      ) : (
        <div className={styles.fields}>
          <Pick
            label={`${LINE_WORDS[kind]} is asked of`}
            value={line.when}
            options={[
              { value: 'by-history', label: 'those whose history speaks of it' },
              { value: 'everyone', label: 'everyone' },
            ]}
            onPick={(when) => onLine({ ...line, when })}
          />
          <Field
            label={`${LINE_WORDS[kind]}: our line, in words`}
            hint="For instance: the dentist is asked from … on."
            value={line.words}
            onChange={(words) => onLine({ ...line, words })}
          />
          <Button onPress={() => onLine(null)}>
            Do not ask it
            <small>{LINE_WORDS[kind].toLowerCase()}</small>
          </Button>
        </div>
      )}
    </section>
  )
}

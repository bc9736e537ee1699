'use client'
import { useState } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Field } from '#app/_ui/field.tsx'
import { Why } from '#app/_ui/why.tsx'
import type { ClinicLine } from '#shared/people/policy-set.ts'
import { LINES, type LineStanding, linesFor, standingOfLine } from '#shared/readiness/lines.ts'
import { LINE_WORDS } from '#shared/words/en/readiness.ts'
import type { ActProps } from './act-props.ts'
import { Offered } from './offered.tsx'
import styles from './plan.module.css'

/** What the clinic has asked before the needle: told here, and by its own line put to the dentist. Never a verdict. */
export function LineActs({ seen, performing }: ActProps) {
  return linesFor(seen.facts).map((line) => (
    <Line key={line.kind} line={line} seen={seen} performing={performing} />
  ))
}

function Line({ line, seen, performing }: ActProps & { line: ClinicLine }) {
  const [again, setAgain] = useState(false)
  const standing = standingOfLine(seen.facts, line.kind)
  return (
    <section className={styles.act} aria-label={LINE_WORDS[line.kind]}>
      <h3>
        {LINE_WORDS[line.kind]}
        {LINES[line.kind].printed.map(({ says, source }) => (
          <Why key={source.where} rule={says} source={source} />
        ))}
      </h3>
      <p className={styles.aside}>
        {LINES[line.kind].asks}. The clinic’s own line: {line.words}
      </p>
      {standing.kind === 'not-asked' || again ? (
        <Offered seen={seen} needs="patient:identify" what={LINE_WORDS[line.kind]}>
          <Record line={line} seen={seen} performing={performing} onDone={() => setAgain(false)} />
        </Offered>
      ) : (
        <>
          <p className={standing.kind === 'within' ? styles.done : ''}>{standingWords(standing)}</p>
          <Button size="small" tone="link" onPress={() => setAgain(true)}>
            Ask or measure again
          </Button>
          <Settle line={line} standing={standing} seen={seen} performing={performing} />
        </>
      )}
    </section>
  )
}

function standingWords(standing: Exclude<LineStanding, { kind: 'not-asked' }>): string {
  switch (standing.kind) {
    case 'within':
      return standing.said
    case 'for-dentist':
      return `${standing.said}: the dentist is asked`
    case 'settled':
      return `${standing.said}: the dentist ${standing.how === 'go-on' ? 'goes on' : 'wants another day'}`
  }
}

function Record({ line, seen, performing, onDone }: ActProps & { line: ClinicLine; onDone: () => void }) {
  const [said, setSaid] = useState('')
  const input = { appointmentId: seen.facts.appointment.id, kind: line.kind, said: said.trim() }
  const isDisabled = said.trim() === ''
  return (
    <>
      <Field label="As measured or told" value={said} onChange={setSaid} autoComplete="off" />
      <div className={styles.choices}>
        <ActButton
          kind="line.record"
          input={{ ...input, forDentist: false }}
          performing={performing}
          isDisabled={isDisabled}
          done="Recorded."
          onDone={onDone}
        >
          Within the clinic’s line
        </ActButton>
        <ActButton
          kind="line.record"
          input={{ ...input, forDentist: true }}
          performing={performing}
          isDisabled={isDisabled}
          done="Put to the dentist."
          onDone={onDone}
        >
          Ask the dentist
        </ActButton>
      </div>
    </>
  )
}

function Settle({
  line,
  standing,
  seen,
  performing,
}: ActProps & { line: ClinicLine; standing: LineStanding }) {
  if (standing.kind !== 'for-dentist' || !isBooked(seen)) return null
  const input = { appointmentId: seen.facts.appointment.id, kind: line.kind }
  return (
    <div className={styles.choices}>
      <ActButton
        kind="line.settle"
        input={{ ...input, how: 'go-on' }}
        performing={performing}
        done="You go on."
      >
        I have seen it, and go on
      </ActButton>
      <ActButton
        kind="line.settle"
        input={{ ...input, how: 'not-today' }}
        performing={performing}
        done="Not today; the desk is told."
      >
        Not today
      </ActButton>
    </div>
  )
}

const isBooked = ({ facts, member }: Seen): boolean => facts.appointment.dentistId === member.id

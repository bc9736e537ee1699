'use client'
import { useState } from 'react'
import type { Performing } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Field } from '#app/_ui/field.tsx'
import list from '#app/_ui/list.module.css'
import { TURNAROUND_STEPS, type Turnaround, type TurnaroundStep } from '#shared/sterility/sterility-facts.ts'
import type { TurnaroundTime } from '#shared/sterility/turnaround.ts'
import styles from './sterilising.module.css'

const STEP_WORDS: Record<TurnaroundStep, string> = {
  soak: 'Soak',
  clean: 'Clean',
  dry: 'Dry',
  pack: 'Pack',
  cycle: 'Cycle',
  cool: 'Cool',
}

export const turnaroundWords = ({ minutes, measured }: TurnaroundTime): string =>
  measured === null
    ? `A used set is taken to be back after ${minutes} minutes: not measured here.`
    : `A used set is back after ${minutes} minutes, as measured here.`

type Entered = Record<TurnaroundStep, string>
const enteredOf = (measured: Turnaround | null): Entered =>
  Object.fromEntries(
    TURNAROUND_STEPS.map((step) => [step, measured === null ? '' : `${measured[step]}`]),
  ) as Entered

const minutesOf = (text: string): number | null => (/^\d{1,3}$/.test(text) ? Number(text) : null)

/** All six, or null while one of them is no number of minutes. */
function readSteps(entered: Entered): Turnaround | null {
  const read = TURNAROUND_STEPS.map((step) => [step, minutesOf(entered[step])] as const)
  return read.some(([, minutes]) => minutes === null) ? null : (Object.fromEntries(read) as Turnaround)
}

interface TurnaroundFormProps {
  turnaround: TurnaroundTime
  performing: Performing
}

/** The minutes of each step from the chair to the shelf, as this clinic measured them. */
export function TurnaroundForm({ turnaround, performing }: TurnaroundFormProps) {
  const [draft, setDraft] = useState<Entered | null>(null)
  const entered = draft ?? enteredOf(turnaround.measured)
  const steps = readSteps(entered)
  const sum = steps === null ? null : TURNAROUND_STEPS.reduce((minutes, step) => minutes + steps[step], 0)
  return (
    <div className={styles.turnaround}>
      <p className={list.small}>
        {turnaroundWords(turnaround)} Measure each step from the chair to the cool pack; 0 for one that is not
        done.
      </p>
      <div className={styles.line}>
        {TURNAROUND_STEPS.map((step) => (
          <Field
            key={step}
            label={`${STEP_WORDS[step]}, minutes`}
            value={entered[step]}
            onChange={(text) => setDraft({ ...entered, [step]: text })}
            inputMode="numeric"
            autoComplete="off"
            wrong={
              entered[step] !== '' && minutesOf(entered[step]) === null ? 'Enter minutes such as 15.' : null
            }
          />
        ))}
      </div>
      <div className={list.acts}>
        <ActButton
          kind="turnaround.set"
          input={{ turnaround: steps }}
          performing={performing}
          isDisabled={draft === null || steps === null}
          done="The minutes are kept."
          onDone={() => setDraft(null)}
        >
          Keep these minutes
          <small>{sum === null ? 'all six, or none' : `${sum} minutes together`}</small>
        </ActButton>
        {turnaround.measured === null ? null : (
          <ActButton
            kind="turnaround.set"
            input={{ turnaround: null }}
            performing={performing}
            done="They count as not measured."
            onDone={() => setDraft(null)}
          >
            Take them back
            <small>not measured any more</small>
          </ActButton>
        )}
      </div>
    </div>
  )
}

'use client'
import type { Seen } from '#app/_live/seen.ts'
import { type InputOf, usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { can } from '#shared/people/role.ts'
import styles from './plan.module.css'

type Answers = InputOf<'allergies.record'>
const LATEX: readonly { latex: NonNullable<Answers['latex']>; words: string }[] = [
  { latex: 'none-known', words: 'Latex: none known' },
  { latex: 'asked-unknown', words: 'Does not know' },
  { latex: 'suspected', words: 'Suspected' },
  { latex: 'confirmed', words: 'Confirmed' },
]
const OTHERS: readonly { state: NonNullable<Answers['state']>; words: string }[] = [
  { state: 'none-known', words: 'Other allergies: none known' },
  { state: 'asked-unknown', words: 'Does not know' },
]

/** Latex is asked by itself: "no known drug allergies" says nothing of it. */
export function AskLatex({ seen }: { seen: Seen }) {
  const performing = usePerform()
  const record = seen.facts.allergies
  const { patientId } = seen.facts.appointment
  if (!can(seen.member.roles, 'patient:allergies')) return null
  const latexOpen = record === null || record.latex === 'not-asked' || record.latex === 'asked-unknown'
  const othersOpen = record === null || record.state === 'not-asked'
  return (
    <>
      {latexOpen ? (
        <div className={styles.choices}>
          {LATEX.map(({ latex, words }) => (
            <ActButton
              key={latex}
              kind="allergies.record"
              input={{ patientId, state: null, latex, allergies: [] }}
              performing={performing}
              done="The answer about latex is recorded."
            >
              {words}
            </ActButton>
          ))}
        </div>
      ) : null}
      {othersOpen ? (
        <div className={styles.choices}>
          {OTHERS.map(({ state, words }) => (
            <ActButton
              key={state}
              kind="allergies.record"
              input={{ patientId, state, latex: null, allergies: [] }}
              performing={performing}
              done="The answer about allergies is recorded."
            >
              {words}
            </ActButton>
          ))}
        </div>
      ) : null}
      <OutcomeBox outcome={performing.outcome} />
    </>
  )
}

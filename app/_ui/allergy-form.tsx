'use client'
import { useState } from 'react'
import type { InputOf, Performing } from '#app/_live/use-perform.ts'
import { REACTION_SEVERITIES, type ReactionSeverity } from '#shared/allergies/allergy-record.ts'
import { SUBSTANCE_FAMILIES, SUBSTANCES, type Substance, substancesIn } from '#shared/allergies/substance.ts'
import type { PatientId } from '#shared/ids.ts'
import { ActButton } from './act-button.tsx'
import styles from './allergy-form.module.css'
import { Button } from './button.tsx'
import { Field } from './field.tsx'
import { Pick } from './pick.tsx'

type Certainty = NonNullable<InputOf<'allergies.record'>['allergies']>[number]['certainty']
const CERTAINTIES: readonly { certainty: Certainty; words: string }[] = [
  { certainty: 'suspected', words: 'Suspected' },
  { certainty: 'confirmed', words: 'Confirmed by a doctor or a test' },
  { certainty: 'past', words: 'Once had it, no longer' },
  { certainty: 'preference', words: 'Not an allergy: prefers not' },
]
const SEVERITY_WORDS: Record<ReactionSeverity, string> = {
  unknown: 'does not know',
  mild: 'mild: itch, rash',
  moderate: 'moderate: swelling, needed medicine',
  severe: 'severe: breathing, collapse, hospital',
}
const SUBSTANCE_OPTIONS = SUBSTANCES.map((value) => ({ value, label: SUBSTANCE_FAMILIES[value].name })).sort(
  (a, b) => a.label.localeCompare(b.label),
)

export interface AllergyFormProps {
  patientId: PatientId
  performing: Performing
  onDone?: () => void
}

/** One allergy as the patient tells it: their own words, of what, how sure, how bad. Nothing is chosen beforehand but what the words name. */
export function AllergyForm({ patientId, performing, onDone }: AllergyFormProps) {
  const [text, setText] = useState('')
  const [picked, setPicked] = useState<Substance | null>(null)
  const [certainty, setCertainty] = useState<Certainty | null>(null)
  const [severity, setSeverity] = useState<ReactionSeverity>('unknown')
  const substance = picked ?? substancesIn(text)[0] ?? 'other'
  const isWhole = certainty !== null && (text.trim() !== '' || substance !== 'other')
  const clear = () => {
    setText('')
    setPicked(null)
    setCertainty(null)
    setSeverity('unknown')
    onDone?.()
  }
  return (
    <div className={styles.form}>
      <Field label="In the patient’s own words" value={text} onChange={setText} />
      <Pick label="Of what" value={substance} options={SUBSTANCE_OPTIONS} onPick={setPicked} />
      <div className={styles.choices}>
        {CERTAINTIES.map((each) => (
          <Button
            key={each.certainty}
            aria-pressed={each.certainty === certainty}
            onPress={() => setCertainty(each.certainty)}
          >
            {each.words}
          </Button>
        ))}
      </div>
      <Pick
        label="How bad it was"
        value={severity}
        options={REACTION_SEVERITIES.map((value) => ({ value, label: SEVERITY_WORDS[value] }))}
        onPick={setSeverity}
      />
      {isWhole ? (
        <ActButton
          kind="allergies.record"
          input={{
            patientId,
            state: null,
            latex: null,
            allergies: [{ substance, certainty, severity, criticality: null, text: text.trim() }],
          }}
          performing={performing}
          tone="ink"
          done="The allergy is recorded."
          onDone={clear}
        >
          List it: {text.trim() || SUBSTANCE_FAMILIES[substance].name}
        </ActButton>
      ) : (
        <p className={styles.aside}>Say of what, and how sure it is.</p>
      )}
    </div>
  )
}

const nothing = () => {}

type Answers = InputOf<'allergies.record'>
const LATEX: readonly { latex: NonNullable<Answers['latex']>; words: string }[] = [
  { latex: 'none-known', words: 'Latex: none known' },
  { latex: 'asked-unknown', words: 'Latex: does not know' },
  { latex: 'suspected', words: 'Latex: suspected' },
  { latex: 'confirmed', words: 'Latex: confirmed' },
]
const OTHERS: readonly { state: NonNullable<Answers['state']>; words: string }[] = [
  { state: 'none-known', words: 'Other allergies: none known' },
  { state: 'listed', words: 'Other allergies: only those listed' },
  { state: 'asked-unknown', words: 'Other allergies: does not know' },
]

/** Latex is asked by itself: "no known drug allergies" says nothing of it. */
export function LatexAnswers({ patientId, performing, onDone = nothing }: AllergyFormProps) {
  return (
    <div className={styles.choices}>
      {LATEX.map(({ latex, words }) => (
        <ActButton
          key={latex}
          kind="allergies.record"
          input={{ patientId, state: null, latex, allergies: [] }}
          performing={performing}
          done="The answer about latex is recorded."
          onDone={onDone}
        >
          {words}
        </ActButton>
      ))}
    </div>
  )
}

/** Of all else together: none that the patient knows of, or asked and not known. */
export function OtherAnswers({ patientId, performing, onDone = nothing }: AllergyFormProps) {
  return (
    <div className={styles.choices}>
      {OTHERS.map(({ state, words }) => (
        <ActButton
          key={state}
          kind="allergies.record"
          input={{ patientId, state, latex: null, allergies: [] }}
          performing={performing}
          done="The answer about allergies is recorded."
          onDone={onDone}
        >
          {words}
        </ActButton>
      ))}
    </div>
  )
}

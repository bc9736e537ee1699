'use client'
import { useState } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import type { Performing } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Field } from '#app/_ui/field.tsx'
import { Pick } from '#app/_ui/pick.tsx'
import { REACTION_SEVERITIES, type ReactionSeverity } from '#shared/allergies/allergy-record.ts'
import { SUBSTANCE_FAMILIES, SUBSTANCES, type Substance } from '#shared/allergies/substance.ts'
import { can } from '#shared/people/role.ts'
import styles from './plan.module.css'

interface AllergyActProps {
  seen: Seen
  performing: Performing
}

const SEVERITY_WORDS: Record<ReactionSeverity, string> = {
  unknown: 'not known',
  mild: 'mild: itch, rash',
  moderate: 'moderate: swelling, needed medicine',
  severe: 'severe: breathing, collapse, hospital',
}

/** What was seen at this visit, in words. What it may mean is suspected at every site until a clinician clears it. */
export function ReactionSeen({ seen, performing }: AllergyActProps) {
  const [text, setText] = useState('')
  const [severity, setSeverity] = useState<ReactionSeverity>('unknown')
  return (
    <details>
      <summary className={styles.more}>A reaction was seen or told of</summary>
      <div className={styles.act}>
        <Field
          label="What was seen, in words"
          hint="For instance itchy lips under the dam."
          value={text}
          onChange={setText}
        />
        <Pick
          label="How bad it was"
          value={severity}
          options={REACTION_SEVERITIES.map((value) => ({ value, label: SEVERITY_WORDS[value] }))}
          onPick={setSeverity}
        />
        <ActButton
          kind="reaction.record"
          input={{ patientId: seen.facts.appointment.patientId, text: text.trim(), severity }}
          performing={performing}
          isDisabled={text.trim() === ''}
          done="Kept. What it may mean is suspected at every site until a clinician clears it."
          onDone={() => setText('')}
        >
          Keep it
        </ActButton>
      </div>
    </details>
  )
}

/** Substances under suspicion or confirmed; latex may stand by itself. */
function heldAgainst({ facts: { allergies } }: Seen): Substance[] {
  const live = (allergies?.allergies ?? [])
    .filter(({ certainty }) => certainty === 'suspected' || certainty === 'confirmed')
    .flatMap(({ substance }) => SUBSTANCES.find((each) => each === substance) ?? [])
  const isLatex = allergies?.latex === 'suspected' || allergies?.latex === 'confirmed'
  return [...new Set<Substance>(isLatex ? ['latex', ...live] : live)]
}

/** A clinician clears a suspicion, with the reason that is kept; nobody else lowers it. */
export function ClearAllergy({ seen, performing }: AllergyActProps) {
  const [reason, setReason] = useState('')
  const substances = heldAgainst(seen)
  if (substances.length === 0 || !can(seen.member.roles, 'word:give')) return null
  return (
    <details>
      <summary className={styles.more}>Clear an allergy</summary>
      <div className={styles.act}>
        <p className={styles.aside}>It stays on record, refuted, with your name and the reason.</p>
        <Field
          label="Why, which is kept"
          hint="For instance tested negative, 3 May 2026."
          value={reason}
          onChange={setReason}
        />
        <div className={styles.choices}>
          {substances.map((substance) => (
            <ActButton
              key={substance}
              kind="allergies.clear"
              input={{ patientId: seen.facts.appointment.patientId, substance, reason: reason.trim() }}
              performing={performing}
              isDisabled={reason.trim() === ''}
              done="Cleared; the record keeps it."
              onDone={() => setReason('')}
            >
              Clear: {SUBSTANCE_FAMILIES[substance].name}
            </ActButton>
          ))}
        </div>
      </div>
    </details>
  )
}

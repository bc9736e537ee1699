'use client'
import { ActButton } from '#app/_ui/act-button.tsx'
import type { ActProps } from './acts.tsx'
import styles from './plan.module.css'

/** Who must be there with the patient. */
export function CompanionActs({ seen, performing }: ActProps) {
  const { patient } = seen.facts
  if (!patient) return null
  const { guardian, interpreter } = patient
  return (
    <>
      {guardian ? (
        guardian.present ? (
          <p className={styles.done}>{guardian.relation} is here</p>
        ) : (
          <ActButton
            kind="companion.record"
            input={{ patientId: patient.id, companion: { kind: 'guardian' } }}
            performing={performing}
            done="Recorded."
          >
            {guardian.relation} is here and agrees
          </ActButton>
        )
      ) : null}
      {interpreter && !interpreter.present
        ? (['professional', 'staff'] as const).map((who) => (
            <ActButton
              key={who}
              kind="companion.record"
              input={{ patientId: patient.id, companion: { kind: 'interpreter', who } }}
              performing={performing}
              done="Recorded."
            >
              {interpreter.language} interpreter is here
              <small>{who === 'staff' ? 'one of our own people' : 'professional'}</small>
            </ActButton>
          ))
        : null}
    </>
  )
}

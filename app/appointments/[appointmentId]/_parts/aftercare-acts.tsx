'use client'
import { ActButton } from '#app/_ui/act-button.tsx'
import type { ActProps } from './act-props.ts'
import { FeelsAgain } from './dose-times.tsx'
import { Offered } from './offered.tsx'
import styles from './plan.module.css'

/** The written warning after an injection, to whoever takes the patient home. */
export function AftercareActs({ seen, performing }: ActProps) {
  const { visit, doses, appointment } = seen.facts
  if (visit?.aftercare) return <p className={styles.done}>Aftercare handed to the {visit.aftercare.to}</p>
  if (doses.length === 0) return null
  return (
    <Offered seen={seen} needs="numbness:record" what="Aftercare">
      <FeelsAgain seen={seen} />
      <div className={styles.choices}>
        {(['patient', 'carer'] as const).map((to) => (
          <ActButton
            key={to}
            kind="aftercare.give"
            input={{ appointmentId: appointment.id, to }}
            performing={performing}
            done={`Aftercare is handed to the ${to}.`}
          >
            Aftercare to the {to}
          </ActButton>
        ))}
      </div>
    </Offered>
  )
}

'use client'
import { ActButton } from '#app/_ui/act-button.tsx'
import { keepingOf } from '#shared/readiness/gate.ts'
import type { ActProps } from './act-props.ts'
import { CountActs } from './leave-acts.tsx'
import { Offered } from './offered.tsx'
import styles from './plan.module.css'

const LEAVING = ['Needs to get up', 'Feels unwell', 'Put off to another time'] as const
const BETWEEN = ['Called to another chair', 'Something is missing', 'Phone or question'] as const

/** What comes between: what was said before it is said again, and the dentist's word is asked anew. */
export function InterruptActs({ seen, performing }: ActProps) {
  const appointmentId = seen.facts.appointment.id
  return (
    <details>
      <summary className={styles.more}>Something comes between</summary>
      <div className={styles.act}>
        <h3>The team is interrupted</h3>
        <p className={styles.aside}>Tooth and side are read back again, and the word is given again.</p>
        <div className={styles.choices}>
          {BETWEEN.map((why) => (
            <ActButton
              key={why}
              kind="visit.interrupt"
              input={{ appointmentId, why }}
              performing={performing}
              done="Interrupted: say it again before going on."
            >
              {why}
            </ActButton>
          ))}
        </div>
        <CountActs seen={seen} performing={performing} />
        <Offered
          seen={seen}
          needs="patient:identify"
          what="Leaves the chair"
          shut={keepingOf(seen.readiness.open, 'chair')}
        >
          <h3>The patient leaves the chair</h3>
          <p className={styles.aside}>Who it is, and which tooth, is asked again when they come back.</p>
          <div className={styles.choices}>
            {LEAVING.map((why) => (
              <ActButton
                key={why}
                kind="visit.leave-chair"
                input={{ appointmentId, why }}
                performing={performing}
                done="Back in the waiting room."
              >
                {why}
              </ActButton>
            ))}
          </div>
        </Offered>
      </div>
    </details>
  )
}

'use client'
import { useState } from 'react'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Field } from '#app/_ui/field.tsx'
import { shownHistory } from '#shared/readiness/shown.ts'
import type { ActProps } from './act-props.ts'
import { Offered } from './offered.tsx'
import styles from './plan.module.css'

/** Today's history, gone through with the patient; what is new is kept in their words, what was there stays. */
export function HistoryAct({ seen, performing }: ActProps) {
  const [added, setAdded] = useState('')
  const { patientId } = seen.facts.appointment
  const isOpen = seen.readiness.open.some(({ rule }) => rule === 'history/not-confirmed')
  const { patient } = seen.facts
  if (patient === null) return null
  const { history } = patient
  const saw = shownHistory(patient)
  return (
    <Offered seen={seen} needs="patient:identify" what="Today’s history">
      <div className={styles.act}>
        {history.length > 0 ? (
          <p className={styles.aside}>On record: {history.map(({ text }) => text).join('; ')}</p>
        ) : null}
        {isOpen ? (
          <ActButton
            kind="history.confirm"
            input={{ patientId, added: [], saw }}
            performing={performing}
            done="Today’s history is confirmed."
          >
            History of today confirmed
            <small>nothing new since last time</small>
          </ActButton>
        ) : (
          <p className={styles.done}>Today’s history confirmed</p>
        )}
        <details>
          <summary className={styles.more}>Something new</summary>
          <div className={styles.act}>
            <Field
              label="In the patient’s words"
              hint="For instance blocked nose today, or takes warfarin."
              value={added}
              onChange={setAdded}
            />
            <ActButton
              kind="history.confirm"
              input={{ patientId, added: [added.trim()], saw }}
              performing={performing}
              isDisabled={added.trim() === ''}
              done="It is on record, and today’s history is confirmed."
              onDone={() => setAdded('')}
            >
              Put on record and confirm
            </ActButton>
          </div>
        </details>
      </div>
    </Offered>
  )
}

'use client'
import { useState } from 'react'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Field } from '#app/_ui/field.tsx'
import type { Patient } from '#shared/people/patient.ts'
import { carerOf, findInterpreter } from '#shared/schedule/seat.ts'
import type { ActProps } from './act-props.ts'
import { Offered } from './offered.tsx'
import styles from './plan.module.css'

/** Who must be there with the patient; an answer of another visit is none. */
export function CompanionActs({ seen, performing }: ActProps) {
  const { patient } = seen.facts
  if (!patient) return null
  return (
    <>
      {carerOf(seen.facts) !== null ? (
        <Guardian seen={seen} performing={performing} patient={patient} />
      ) : null}
      {patient.interpreter ? <Interpreter seen={seen} performing={performing} patient={patient} /> : null}
    </>
  )
}

interface CompanionProps extends ActProps {
  patient: Patient
}

const isOpen = ({ readiness }: ActProps['seen'], rule: string): boolean =>
  readiness.open.some((finding) => finding.rule === rule)

function Guardian({ seen, performing, patient }: CompanionProps) {
  const relation = patient.guardian?.relation ?? null
  if (!isOpen(seen, 'guardian/not-recorded'))
    return relation && <p className={styles.done}>{relation} is here</p>
  return (
    <Offered seen={seen} needs="patient:allergies" what="Who came with the patient">
      <div className={styles.choices}>
        {(relation === null ? CARERS : [relation]).map((who) => (
          <ActButton
            key={who}
            kind="companion.record"
            input={{ patientId: patient.id, companion: { kind: 'guardian', relation: who } }}
            performing={performing}
            done="Recorded."
          >
            {who} is here and agrees
          </ActButton>
        ))}
      </div>
    </Offered>
  )
}

/** Whom a child may come with, where the record names nobody yet. */
const CARERS = ['mother', 'father', 'guardian'] as const

const WHO_WORDS = { professional: 'professional', staff: 'one of our own people', relative: 'a relative' }

function Interpreter({ seen, performing, patient }: CompanionProps) {
  const booked = findInterpreter(seen.facts.choice)
  const { language, present } = patient.interpreter ?? { language: '', present: null }
  if (!isOpen(seen, 'interpreter/not-recorded')) {
    return present === null ? null : (
      <p className={styles.done}>
        {language} interpreter is here: {WHO_WORDS[present.kind]}
        {present.reason === '' ? '' : ` (${present.reason})`}
      </p>
    )
  }
  return (
    <Offered seen={seen} needs="patient:allergies" what={`${language} interpreter`}>
      <div className={styles.act}>
        <h3>{language} interpreter: who is here?</h3>
        <p className={styles.aside}>{booked === null ? 'None was booked.' : `Booked: ${booked}.`}</p>
        <div className={styles.choices}>
          {(['professional', 'staff'] as const).map((who) => (
            <ActButton
              key={who}
              kind="companion.record"
              input={{ patientId: patient.id, companion: { kind: 'interpreter', who } }}
              performing={performing}
              done="Recorded."
            >
              {language} interpreter is here
              <small>{WHO_WORDS[who]}</small>
            </ActButton>
          ))}
        </div>
        <Relative seen={seen} performing={performing} patient={patient} />
      </div>
    </Offered>
  )
}

/** A relative interprets only for a reason, which is kept. */
function Relative({ performing, patient }: CompanionProps) {
  const [reason, setReason] = useState('')
  return (
    <details>
      <summary className={styles.more}>A relative interprets</summary>
      <div className={styles.act}>
        <Field label="Why nobody else does, which is kept" value={reason} onChange={setReason} />
        <ActButton
          kind="companion.record"
          input={{
            patientId: patient.id,
            companion: { kind: 'interpreter', who: 'relative', reason: reason.trim() },
          }}
          performing={performing}
          isDisabled={reason.trim() === ''}
          done="Recorded."
        >
          A relative is here and interprets
        </ActButton>
      </div>
    </details>
  )
}

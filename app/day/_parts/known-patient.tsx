'use client'
import { useState } from 'react'
import { server } from '#app/_live/server.ts'
import { type Trouble, troubleOf } from '#app/_live/trouble.ts'
import { Button } from '#app/_ui/button.tsx'
import { Field } from '#app/_ui/field.tsx'
import { bornWords } from '#app/_ui/time-words.ts'
import { TroubleBox } from '#app/_ui/trouble-box.tsx'
import type { Day } from '#shared/base/moment.ts'
import type { PatientId } from '#shared/ids.ts'
import styles from './day.module.css'

export interface Known {
  id: PatientId
  given: string
  family: string
  born: Day | null
}

export interface KnownPatientProps {
  chosen: Known | null
  onChosen: (patient: Known | null) => void
}

/** Someone who has been here before, by the beginning of the family name; the birth date tells two apart. */
export function KnownPatient({ chosen, onChosen }: KnownPatientProps) {
  const [text, setText] = useState('')
  const [found, setFound] = useState<Known[] | null>(null)
  const [trouble, setTrouble] = useState<Trouble | null>(null)
  const look = async () => {
    try {
      setFound(await server.patients.find.query({ text }))
      setTrouble(null)
    } catch (error) {
      setTrouble(troubleOf(error))
    }
  }
  if (chosen) {
    return (
      <div className={styles.acts}>
        <p className={styles.who}>
          {chosen.given} {chosen.family}, {bornWords(chosen.born)}
        </p>
        <Button onPress={() => onChosen(null)}>Someone else</Button>
      </div>
    )
  }
  return (
    <div className={styles.known}>
      <Field
        label="Family name begins with"
        value={text}
        onChange={setText}
        hint="At least two letters, for someone who has been here before."
      />
      <Button onPress={look} isDisabled={text.trim().length < 2}>
        Look
      </Button>
      {trouble ? <TroubleBox trouble={trouble} /> : null}
      {found?.length === 0 ? <p className={styles.small}>Nobody of that name is known here.</p> : null}
      <ul className={styles.acts}>
        {found?.map((patient) => (
          <li key={patient.id}>
            <Button onPress={() => onChosen(patient)}>
              {patient.given} {patient.family}
              <small>{bornWords(patient.born)}</small>
            </Button>
          </li>
        ))}
      </ul>
    </div>
  )
}

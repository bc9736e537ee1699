'use client'
import { useState } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import type { InputOf } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Field } from '#app/_ui/field.tsx'
import { FindingLine } from '#app/_ui/finding-line.tsx'
import { dateWords } from '#app/_ui/time-words.ts'
import type { Day } from '#shared/base/moment.ts'
import { birthDaysAmong, readBirthDay } from '#shared/people/decoys.ts'
import type { Patient } from '#shared/people/patient.ts'
import { likenessOf, mustBeTyped } from '#shared/schedule/identity.ts'
import { findIdentityFault } from '#shared/schedule/seat.ts'
import type { ActProps } from './act-props.ts'
import styles from './plan.module.css'

type Identify = InputOf<'visit.identify'>
type Identifier = Identify['identifiers'][number]

/** Asked beside the birth day; the name first, for it is asked of everyone. */
const BESIDE: readonly { identifier: Identifier; words: string }[] = [
  { identifier: 'full-name', words: 'Full name' },
  { identifier: 'photo', words: 'Photo' },
  { identifier: 'carer', words: 'Carer knows them' },
]
const NOTHING = { name: null, born: null, number: null }

/**
 * Two answers to open questions. Ordinarily the birth day is picked among decoys, which one can only do who has asked;
 * where another patient of today is alike, or an answer did not agree, name and day are typed.
 */
export function Identify({ seen, performing }: ActProps) {
  const [typed, setTyped] = useState(false)
  const { patient } = seen.facts
  if (!patient) return null
  const differed = findIdentityFault(seen.facts, 'none').filter(({ rule }) => rule === 'identity/differs')
  return (
    <div className={styles.act}>
      <h3>Who is it?</h3>
      {differed.map((finding) => (
        <div key={finding.rule + finding.about} role="alert">
          <FindingLine finding={finding} />
        </div>
      ))}
      {typed || mustBeTyped(seen.facts.visit, seen.alike.length > 0) ? (
        <Typed seen={seen} patient={patient} performing={performing} />
      ) : (
        <Picked seen={seen} patient={patient} performing={performing} onTyped={() => setTyped(true)} />
      )}
    </div>
  )
}

interface AskedProps extends ActProps {
  patient: Patient
}

function Picked({ seen, patient, performing, onTyped }: AskedProps & { onTyped: () => void }) {
  const [beside, setBeside] = useState<Identifier>('full-name')
  const { born } = patient
  return (
    <>
      <p className={styles.aside}>
        {born === null
          ? 'No birth date is on record. Ask name and number by open question, and type what they say.'
          : '“What is your name, and when were you born?” Touch the day they say.'}
      </p>
      {born === null ? null : <Besides beside={beside} onBeside={setBeside} />}
      {born === null ? null : (
        <fieldset className={styles.days}>
          <legend className="visually-hidden">Birth day</legend>
          {birthDaysAmong(born, { of: patient.id, today: seen.facts.appointment.day }).map((day) => (
            <ActButton
              key={day}
              kind="visit.identify"
              input={answer(seen, { identifiers: [beside, 'birth-day'], said: { ...NOTHING, born: day } })}
              performing={performing}
              done="Identity recorded."
            >
              {dateWords(day)}
            </ActButton>
          ))}
        </fieldset>
      )}
      <Button tone="link" size="small" onPress={onTyped}>
        {born === null ? 'Type what they say' : 'None of these, or type it'}
      </Button>
    </>
  )
}

function Besides({ beside, onBeside }: { beside: Identifier; onBeside: (beside: Identifier) => void }) {
  return (
    <div className={styles.choices}>
      {BESIDE.map(({ identifier, words }) => (
        <Button key={identifier} onPress={() => onBeside(identifier)} aria-pressed={beside === identifier}>
          {words}
        </Button>
      ))}
    </div>
  )
}

type Answer = Pick<Identify, 'identifiers' | 'said'> & Partial<Pick<Identify, 'how'>>
const answer = (seen: Seen, { how = 'asked', ...rest }: Answer): Identify => ({
  appointmentId: seen.facts.appointment.id,
  how,
  ...rest,
})

/** Typed as the patient says it and compared with the record; a code that is scanned lands in the same place. */
function Typed({ seen, patient, performing }: AskedProps) {
  const [name, setName] = useState('')
  const [day, setDay] = useState('')
  const [number, setNumber] = useState('')
  const born = readBirthDay(day)
  const isDay = day === '' || born !== null
  const hasNumbers = patient.identifiers.length > 0
  const isSame = likenessOf(patient, seen.alike) === 'same'
  const [beside, setBeside] = useState<Identifier>('full-name')
  // A number or, where none is on record, a photo or a carer tells two of one name and birth date apart.
  const isApart = !isSame || (hasNumbers ? number.trim() !== '' : beside !== 'full-name')
  const isSecond = born !== null || number.trim() !== '' || patient.born === null
  return (
    <>
      <p className={styles.aside}>
        Type what the patient says, not what stands here. If it does not agree, find out who this is before
        anything else; Stop holds the operatory.
      </p>
      <Field label="Full name, as they say it" value={name} onChange={setName} autoComplete="off" />
      <Field
        label="Birth date, as they say it"
        hint="12.2.1997 or 1997-02-12"
        value={day}
        onChange={setDay}
        wrong={isDay ? null : 'This is no day: day, month, year.'}
        autoComplete="off"
      />
      {hasNumbers ? (
        <Field
          label={isSame ? 'Their number, typed or scanned' : 'Or their number, scanned'}
          value={number}
          onChange={setNumber}
          autoComplete="off"
        />
      ) : isSame ? (
        <Besides beside={beside} onBeside={setBeside} />
      ) : null}
      <ActButton
        kind="visit.identify"
        input={typedAnswer(seen, { name, born, number, beside })}
        performing={performing}
        size="main"
        tone="ink"
        isDisabled={!isDay || name.trim() === '' || !isSecond || !isApart}
        done="Identity recorded."
      >
        Compare and record
      </ActButton>
    </>
  )
}

function typedAnswer(
  seen: Seen,
  { name, born, number, beside }: { name: string; born: Day | null; number: string; beside: Identifier },
): Identify {
  const said = { name: name.trim() || null, born, number: number.trim() || null }
  const shown: Identifier[] = [
    ...(said.born ? (['birth-day'] as const) : []),
    ...(said.number ? (['patient-number'] as const) : []),
  ]
  const others = beside === 'full-name' ? (shown.length === 0 ? (['carer'] as const) : []) : [beside]
  return answer(seen, { identifiers: ['full-name', ...shown, ...others], how: 'typed', said })
}

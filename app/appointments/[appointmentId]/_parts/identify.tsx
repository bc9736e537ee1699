'use client'
import { useState } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import type { InputOf, Performing } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import styles from './plan.module.css'

type Identifier = InputOf<'visit.identify'>['identifiers'][number]
const ASKED: readonly { identifier: Identifier; words: string }[] = [
  { identifier: 'full-name', words: 'Full name' },
  { identifier: 'birth-day', words: 'Birth date' },
  { identifier: 'patient-number', words: 'Patient number' },
  { identifier: 'photo', words: 'Photo' },
  { identifier: 'carer', words: 'Carer knows them' },
]

type How = InputOf<'visit.identify'>['how']
/** Where another patient of today is alike, asking alone is not enough. */
const HOWS: readonly { way: How; words: string }[] = [
  { way: 'asked', words: 'By asking' },
  { way: 'typed', words: 'Written down and compared' },
  { way: 'scanned', words: 'Scanned' },
]

/** Two answers to open questions, before the chair. */
export function Identify({ seen, performing }: { seen: Seen; performing: Performing }) {
  const [answered, setAnswered] = useState<Identifier[]>([])
  const [how, setHow] = useState<How>('asked')
  const touch = (one: Identifier) =>
    setAnswered(answered.includes(one) ? answered.filter((each) => each !== one) : [...answered, one])
  return (
    <div className={styles.act}>
      <h3>Who is it?</h3>
      <p className={styles.aside}>
        “What is your name, and when were you born?” Touch the two that were answered and agree with the page.
      </p>
      <div className={styles.choices}>
        {ASKED.map(({ identifier, words }) => (
          <Button
            key={identifier}
            onPress={() => touch(identifier)}
            aria-pressed={answered.includes(identifier)}
          >
            {words}
          </Button>
        ))}
      </div>
      <div className={styles.choices}>
        {HOWS.map(({ way, words }) => (
          <Button key={way} onPress={() => setHow(way)} aria-pressed={how === way}>
            {words}
          </Button>
        ))}
      </div>
      <ActButton
        kind="visit.identify"
        input={{ appointmentId: seen.facts.appointment.id, identifiers: answered, how }}
        performing={performing}
        size="main"
        tone="ink"
        done="Identity recorded."
      >
        It is {seen.facts.patient?.given ?? 'this patient'}
      </ActButton>
    </div>
  )
}

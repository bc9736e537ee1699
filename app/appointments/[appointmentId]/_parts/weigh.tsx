'use client'
import { useState } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Field } from '#app/_ui/field.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { can } from '#shared/people/role.ts'
import styles from './plan.module.css'

/** A weight is entered with its unit, or not at all. */
export function Weigh({ seen }: { seen: Seen }) {
  const weight = seen.facts.patient?.weight ?? null
  if (!can(seen.member.roles, 'patient:identify')) return null
  return (
    <details>
      <summary className={styles.more}>{weight === null ? 'Enter the weight' : 'Weigh anew'}</summary>
      <WeightForm key={weight?.at} seen={seen} />
    </details>
  )
}

const UNITS = ['kg', 'lb'] as const
const UNIT_WORDS = { kg: 'kilograms', lb: 'pounds' }

function WeightForm({ seen }: { seen: Seen }) {
  const performing = usePerform()
  const [value, setValue] = useState('')
  const [unit, setUnit] = useState<(typeof UNITS)[number] | null>(null)
  const { patientId } = seen.facts.appointment
  return (
    <div className={styles.act}>
      <Field label="Weight, as it was told or read" value={value} onChange={setValue} inputMode="decimal" />
      <div className={styles.choices}>
        {UNITS.map((each) => (
          <Button
            key={each}
            aria-pressed={each === unit}
            aria-label={UNIT_WORDS[each]}
            onPress={() => setUnit(each)}
          >
            {each}
          </Button>
        ))}
        {unit === null || value.trim() === '' ? (
          <p className={styles.aside}>A number without its unit is not a weight: enter both.</p>
        ) : (
          <ActButton
            kind="patient.weigh"
            input={{ patientId, value, unit }}
            performing={performing}
            tone="ink"
            done="The weight is recorded."
          >
            It is {value} {unit}
          </ActButton>
        )}
      </div>
      <OutcomeBox outcome={performing.outcome} />
    </div>
  )
}

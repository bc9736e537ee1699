'use client'
import { useState } from 'react'
import { post, type Trouble } from '#app/_live/trouble.ts'
import { Button } from '#app/_ui/button.tsx'
import { Field } from '#app/_ui/field.tsx'
import { TroubleBox } from '#app/_ui/trouble-box.tsx'
import type { Member } from '#shared/people/clinic.ts'
import styles from './settings.module.css'

/** Devices that stand in a room for everyone, each person taking them over by a few digits. */
export function StationsPart({ stations, onChanged }: { stations: Member[]; onChanged: () => void }) {
  const [name, setName] = useState('')
  const [trouble, setTrouble] = useState<Trouble | null>(null)
  const register = async () => {
    const came = await post('/api/station', { kind: 'register', name: name.trim() })
    if (came === null) return location.assign('/sign-in')
    setTrouble(came)
  }
  const end = async ({ id }: Member) => {
    const came = await post('/api/people', { kind: 'deactivate', memberId: id })
    setTrouble(came)
    if (came === null) onChanged()
  }
  return (
    <section aria-labelledby="stations" className={styles.part}>
      <h2 id="stations">Shared stations</h2>
      <p className={styles.small}>
        A device in a room shows what a corridor may see. Whoever works there enters their digits; after two
        quiet minutes it is nobody’s again. Anyone may stop from it without digits.
      </p>
      <ul className={styles.list}>
        {stations.map((station) => (
          <li key={station.id} className={styles.choices}>
            <strong>{station.name}</strong>
            <Button
              tone="stop"
              aria-label={`${station.name} is a station no longer`}
              onPress={() => end(station)}
            >
              A station no longer
            </Button>
          </li>
        ))}
      </ul>
      <div className={styles.fields}>
        <Field
          label="What this device is called"
          hint="Operatory 3, or Steriliser room"
          value={name}
          onChange={setName}
          autoComplete="off"
        />
      </div>
      <Button isDisabled={name.trim() === ''} onPress={register}>
        Make this device a shared station
        <small>you are signed out here</small>
      </Button>
      {trouble ? <TroubleBox trouble={trouble} /> : null}
    </section>
  )
}

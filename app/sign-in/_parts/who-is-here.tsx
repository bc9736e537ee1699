'use client'
import { useState } from 'react'
import { Button } from '#app/_ui/button.tsx'
import type { MemberId } from '#shared/ids.ts'
import type { Role } from '#shared/people/role.ts'
import { ROLE_WORDS } from '#shared/words/en/states.ts'
import { PinPad } from './pin-pad.tsx'
import styles from './station.module.css'

export interface StationDoors {
  people: { memberId: MemberId; name: string; roles: Role[] }[]
  /** The digits of everyone in the invented clinic; null in a real one. */
  hint: string | null
}

/** Who takes the station over: a name, then their digits. */
export function WhoIsHere({ doors: { people, hint } }: { doors: StationDoors }) {
  const [chosen, setChosen] = useState<StationDoors['people'][number] | null>(null)
  return (
    <section aria-labelledby="who" className={styles.part}>
      <h2 id="who">{chosen ? chosen.name : 'Who is here?'}</h2>
      {chosen ? (
        <PinPad memberId={chosen.memberId} hint={hint} onBack={() => setChosen(null)} />
      ) : (
        <ul className={styles.people}>
          {people.map((person) => (
            <li key={person.memberId}>
              <Button onPress={() => setChosen(person)}>
                {person.name}
                <small>{person.roles.map((role) => ROLE_WORDS[role]).join(', ')}</small>
              </Button>
            </li>
          ))}
        </ul>
      )}
      {people.length === 0 ? (
        <p>Nobody has digits yet. The manager gives them under Settings, People.</p>
      ) : null}
    </section>
  )
}

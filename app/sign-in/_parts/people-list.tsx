'use client'
import { useState } from 'react'
import { post, type Trouble } from '#app/_live/trouble.ts'
import { Button } from '#app/_ui/button.tsx'
import { TroubleBox } from '#app/_ui/trouble-box.tsx'
import type { MemberId } from '#shared/ids.ts'
import type { Role } from '#shared/people/role.ts'
import { ROLE_WORDS } from '#shared/words/en/states.ts'
import styles from './sign-in.module.css'

export interface OneTapPerson {
  memberId: MemberId
  name: string
  roles: Role[]
}

/** One touch signs in as whichever of the invented clinic's people it names. */
export function PeopleList({ people }: { people: OneTapPerson[] }) {
  const [trouble, setTrouble] = useState<Trouble | null>(null)
  const enter = async (memberId: string) => {
    const refused = await post('/api/one-tap', { memberId })
    if (refused) setTrouble(refused)
    else location.assign('/')
  }
  return (
    <section aria-labelledby="people" className={styles.part}>
      <h2 id="people" className={styles.title}>
        Look around as
      </h2>
      <p className={styles.hint}>This clinic is invented, so one touch is enough.</p>
      {trouble ? <TroubleBox trouble={trouble} /> : null}
      <ul className={styles.people}>
        {people.map((person) => (
          <li key={person.memberId}>
            <Button onPress={() => enter(person.memberId)}>
              {person.name}
              <small>{person.roles.map((role) => ROLE_WORDS[role]).join(', ')}</small>
            </Button>
          </li>
        ))}
      </ul>
    </section>
  )
}

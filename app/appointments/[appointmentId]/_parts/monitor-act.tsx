'use client'
import { useState } from 'react'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import type { MemberId } from '#shared/ids.ts'
import { can } from '#shared/people/role.ts'
import { findMonitor, isSedated } from '#shared/schedule/seat.ts'
import type { ActProps } from './act-props.ts'
import { Offered } from './offered.tsx'
import styles from './plan.module.css'

/** Who watches a sedated patient: a person, never a timer, and not the one who treats. */
export function MonitorAct({ seen, performing }: ActProps) {
  const [again, setAgain] = useState(false)
  const { facts, day } = seen
  if (!isSedated(facts)) return null
  const watching = findMonitor(facts.choice)
  if (watching !== null && !again) {
    return (
      <p className={styles.done}>
        Sedation: {seen.nameOf(watching as MemberId)} watches the patient and nothing else{' '}
        <Button size="small" tone="link" onPress={() => setAgain(true)}>
          Somebody else
        </Button>
      </p>
    )
  }
  const { dentistId, studentId, id } = facts.appointment
  const people = [...day.members.values()].filter(
    ({ id: each, roles, active }) =>
      active && each !== dentistId && each !== studentId && can(roles, 'patient:identify'),
  )
  return (
    <Offered seen={seen} needs="patient:identify" what="Who watches">
      <div className={styles.act}>
        <h3>Sedation: who watches the patient?</h3>
        <p className={styles.aside}>A clock watches nobody. Whoever treats cannot watch as well.</p>
        <div className={styles.choices}>
          {people.map((person) => (
            <ActButton
              key={person.id}
              kind="monitor.name"
              input={{ appointmentId: id, memberId: person.id }}
              performing={performing}
              done={`${person.shortName} watches.`}
              onDone={() => setAgain(false)}
            >
              {person.shortName}
            </ActButton>
          ))}
        </div>
      </div>
    </Offered>
  )
}

'use client'
import { operatoryWords } from '#app/_ui/labels.ts'
import { RoomTicks } from '#app/_ui/room-ticks.tsx'
import { can } from '#shared/people/role.ts'
import type { ActProps } from './act-props.ts'
import styles from './plan.module.css'

/** The room after the patient before. */
export function RoomActs({ seen, performing }: ActProps) {
  const { operatory, occupancy } = seen.facts
  if (operatory === null || occupancy?.life.kind !== 'turning-over') return null
  const name = operatoryWords(operatory.name)
  if (!can(seen.member.roles, 'tray:use')) return <p>{name} is being turned over.</p>
  return (
    <div className={styles.act}>
      <h3>{name}, turning over</h3>
      <div className={styles.choices}>
        <RoomTicks
          operatoryId={operatory.id}
          name={name}
          done={occupancy.life.done}
          performing={performing}
        />
      </div>
    </div>
  )
}

'use client'
import { ActButton } from '#app/_ui/act-button.tsx'
import { operatoryWords, ROOM_TASK_WORDS } from '#app/_ui/labels.ts'
import { can } from '#shared/people/role.ts'
import { tasksLeft } from '#shared/schedule/visit.ts'
import type { ActProps } from './acts.tsx'
import styles from './plan.module.css'

/** The room after the patient before: each task is touched by whoever did it, and the last one clears the room. */
export function RoomActs({ seen, performing }: ActProps) {
  const { operatory, occupancy } = seen.facts
  if (operatory === null || occupancy?.life.kind !== 'turning-over') return null
  if (!can(seen.member.roles, 'tray:use'))
    return <p>{operatoryWords(operatory.name)} is being turned over.</p>
  return (
    <div className={styles.act}>
      <h3>{operatoryWords(operatory.name)}, turning over</h3>
      <div className={styles.choices}>
        {tasksLeft(occupancy.life.done).map((task) => (
          <ActButton
            key={task}
            kind="room.turn-over"
            input={{ operatoryId: operatory.id, tasks: [task] }}
            performing={performing}
            done={`${ROOM_TASK_WORDS[task]}.`}
          >
            {ROOM_TASK_WORDS[task]}
          </ActButton>
        ))}
      </div>
    </div>
  )
}

'use client'
import type { Performing } from '#app/_live/use-perform.ts'
import type { OperatoryId } from '#shared/ids.ts'
import type { RoomTask } from '#shared/schedule/appointment.ts'
import { tasksLeft } from '#shared/schedule/visit.ts'
import { ActButton } from './act-button.tsx'
import { ROOM_TASK_WORDS } from './labels.ts'

export interface RoomTicksProps {
  operatoryId: OperatoryId
  /** The operatory as it is said, for those who listen. */
  name: string
  done: readonly RoomTask[]
  performing: Performing
}

/** The room after the patient before: each task is touched by whoever did it, and the last one clears the room. */
export function RoomTicks({ operatoryId, name, done, performing }: RoomTicksProps) {
  return tasksLeft(done).map((task) => (
    <ActButton
      key={task}
      kind="room.turn-over"
      input={{ operatoryId, tasks: [task] }}
      performing={performing}
      done={`${name}: ${ROOM_TASK_WORDS[task].toLowerCase()}.`}
    >
      {ROOM_TASK_WORDS[task]}
    </ActButton>
  ))
}

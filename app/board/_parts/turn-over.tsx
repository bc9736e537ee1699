'use client'
import { useState } from 'react'
import { usePerform } from '#app/_live/use-perform.ts'
import { Button } from '#app/_ui/button.tsx'
import { Dialog } from '#app/_ui/dialog.tsx'
import { operatoryWords } from '#app/_ui/labels.ts'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { RoomTicks } from '#app/_ui/room-ticks.tsx'
import type { JudgedLane } from '#shared/readiness/board-types.ts'
import { ROOM_TASKS } from '#shared/schedule/appointment.ts'
import { tasksLeft } from '#shared/schedule/visit.ts'
import styles from './board.module.css'

/** How far turning over the room is; a touch opens what is left to tick. */
export function TurnOver({ lane }: { lane: JudgedLane }) {
  const performing = usePerform()
  const [open, setOpen] = useState(false)
  const name = operatoryWords(lane.name)
  const close = () => setOpen(false)
  const { done } = lane.room
  return (
    <>
      <Button size="small" onPress={() => setOpen(true)} aria-label={`${name}: tick what is done`}>
        {ROOM_TASKS.length - tasksLeft(done).length} of {ROOM_TASKS.length} done: tick
      </Button>
      <Dialog title={`${name}, turning over`} isOpen={open} onClose={close}>
        <Button autoFocus onPress={close}>
          Close
        </Button>
        <div className={styles.ticks}>
          <RoomTicks operatoryId={lane.operatoryId} name={name} done={done} performing={performing} />
        </div>
        <OutcomeBox outcome={performing.outcome} />
      </Dialog>
    </>
  )
}

'use client'
import { lazy, Suspense, useState } from 'react'
import { Button } from '#app/_ui/button.tsx'
import { operatoryWords } from '#app/_ui/labels.ts'
import type { JudgedLane } from '#shared/readiness/board-types.ts'
import { ROOM_TASKS } from '#shared/schedule/appointment.ts'
import { tasksLeft } from '#shared/schedule/visit.ts'

const TurnOverDialog = lazy(() => import('./turn-over-dialog.tsx'))

/** How far turning over the room is; a touch opens what is left to tick. */
export function TurnOver({ lane }: { lane: JudgedLane }) {
  const [isOpen, setOpen] = useState(false)
  return (
    <>
      <Button
        size="small"
        onPress={() => setOpen(true)}
        aria-label={`${operatoryWords(lane.name)}: tick what is done`}
      >
        {ROOM_TASKS.length - tasksLeft(lane.room.done).length} of {ROOM_TASKS.length} done: tick
      </Button>
      {isOpen ? (
        <Suspense fallback={null}>
          <TurnOverDialog lane={lane} onClose={() => setOpen(false)} />
        </Suspense>
      ) : null}
    </>
  )
}

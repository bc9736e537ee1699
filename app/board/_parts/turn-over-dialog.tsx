'use client'
import { usePerform } from '#app/_live/use-perform.ts'
import { Button } from '#app/_ui/button.tsx'
import { Dialog } from '#app/_ui/dialog.tsx'
import { operatoryWords } from '#app/_ui/labels.ts'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { RoomTicks } from '#app/_ui/room-ticks.tsx'
import type { JudgedLane } from '#shared/readiness/board-types.ts'
import styles from './board.module.css'

/** What is left to tick of a room; fetched when it is opened, so that the board is there sooner. */
export default function TurnOverDialog({ lane, onClose }: { lane: JudgedLane; onClose: () => void }) {
  const performing = usePerform()
  const name = operatoryWords(lane.name)
  return (
    <Dialog title={`${name}, turning over`} isOpen onClose={onClose}>
      <Button autoFocus onPress={onClose}>
        Close
      </Button>
      <div className={styles.ticks}>
        <RoomTicks operatoryId={lane.operatoryId} name={name} done={lane.room.done} performing={performing} />
      </div>
      <OutcomeBox outcome={performing.outcome} />
    </Dialog>
  )
}

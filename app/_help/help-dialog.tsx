'use client'
import { useState } from 'react'
import { usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { Dialog } from '#app/_ui/dialog.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import type { AppointmentId } from '#shared/ids.ts'
import { HELP_KINDS, type HelpKind } from '#shared/readiness/help.ts'
import type { Chair } from './chair.ts'
import styles from './help.module.css'
import { CALL_WORDS } from './help-words.ts'

interface HelpDialogProps {
  chairs: readonly Chair[]
  onClose: () => void
}

export default function HelpDialog({ chairs, onClose }: HelpDialogProps) {
  return (
    <Dialog title="Help here: what has happened?" isOpen onClose={onClose}>
      <Call chairs={chairs} onClose={onClose} />
    </Dialog>
  )
}

function Call({ chairs, onClose }: HelpDialogProps) {
  const performing = usePerform()
  const [drill, setDrill] = useState(false)
  const [picked, setPicked] = useState<AppointmentId | null>(null)
  const chair = chairs.find(({ appointmentId }) => appointmentId === picked) ?? only(chairs)
  return (
    <div className={styles.call}>
      <Button onPress={onClose}>Nothing: go back</Button>
      {chairs.length === 0 ? (
        <p>Nobody sits in a chair here. Call out, and use the clinic’s emergency number.</p>
      ) : null}
      {chairs.length > 1 ? <WhichChair chairs={chairs} picked={picked} onPick={setPicked} /> : null}
      {chair ? (
        <fieldset className={styles.kinds}>
          <legend className="visually-hidden">What has happened, {chair.name}</legend>
          {HELP_KINDS.map((kind: HelpKind) => (
            <ActButton
              key={kind}
              kind="help.call"
              input={{ appointmentId: chair.appointmentId, kind, drill }}
              performing={performing}
              size="main"
              tone="stop"
              done={drill ? 'The drill has begun.' : 'Help is called. The team is told.'}
              onDone={onClose}
            >
              {CALL_WORDS[kind]}
            </ActButton>
          ))}
          <ActButton
            kind="stop.check-side"
            input={{ appointmentId: chair.appointmentId }}
            performing={performing}
            size="main"
            tone="stop"
            done="Stopped. Every screen of this operatory shows it."
            onDone={onClose}
          >
            Stop, check side
          </ActButton>
        </fieldset>
      ) : null}
      <Button aria-pressed={drill} onPress={() => setDrill(!drill)}>
        A drill: it is told, and holds nothing
      </Button>
      <OutcomeBox outcome={performing.outcome} />
    </div>
  )
}

const only = (chairs: readonly Chair[]): Chair | null => (chairs.length === 1 ? (chairs[0] ?? null) : null)

interface WhichChairProps {
  chairs: readonly Chair[]
  picked: AppointmentId | null
  onPick: (id: AppointmentId) => void
}

function WhichChair({ chairs, picked, onPick }: WhichChairProps) {
  return (
    <fieldset className={styles.kinds}>
      <legend>Which chair?</legend>
      {chairs.map(({ appointmentId, name }) => (
        <Button
          key={appointmentId}
          aria-pressed={appointmentId === picked}
          onPress={() => onPick(appointmentId)}
        >
          {name}
        </Button>
      ))}
    </fieldset>
  )
}

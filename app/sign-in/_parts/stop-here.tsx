'use client'
import type { Chair } from '#app/_help/chair.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'

/** Anyone, one touch, no digits: a stop is never kept waiting for a name. */
export function StopHere({ chair: { appointmentId, name } }: { chair: Chair }) {
  const performing = usePerform()
  return (
    <div>
      <ActButton
        kind="stop.check-side"
        input={{ appointmentId }}
        performing={performing}
        size="main"
        tone="stop"
        done={`Stopped. Every screen of ${name} shows it.`}
      >
        Stop, check side: {name}
        {performing.outcome?.kind === 'done' ? <small>stopped, every screen shows it</small> : null}
      </ActButton>
      <OutcomeBox outcome={performing.outcome} />
    </div>
  )
}

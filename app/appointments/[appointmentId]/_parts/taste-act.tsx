'use client'
import { ActButton } from '#app/_ui/act-button.tsx'
import { findOpenHelp } from '#shared/readiness/help.ts'
import type { ActProps } from './act-props.ts'

/** What the patient says under the dam is one touch: the chair is held, and the time runs on the card. */
export function TasteAct({ seen, performing }: ActProps) {
  const { facts } = seen
  const isHeld = findOpenHelp(facts).some(({ kind, drill }) => kind === 'taste-or-burn' && !drill)
  if (facts.visit?.clamp == null && facts.asPlaced.length === 0) return null
  if (isHeld) return null
  return (
    <ActButton
      kind="help.call"
      input={{ appointmentId: facts.appointment.id, kind: 'taste-or-burn', drill: false }}
      performing={performing}
      tone="stop"
      done="Held: the patient tastes or feels burning. The time runs."
    >
      Patient tastes it, or it burns
      <small>stop, rinse well; the chair is held</small>
    </ActButton>
  )
}

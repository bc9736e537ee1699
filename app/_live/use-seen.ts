'use client'
import { useMemo } from 'react'
import type { AppointmentHolderProps } from './appointment-holder.tsx'
import { type Seen, seeAppointment } from './seen.ts'
import type { Trouble } from './trouble.ts'
import { useJudgingMoment } from './use-moment.ts'
import { useWorld } from './use-world.ts'

/** One appointment as it stands on a screen inside its holder; null where the window does not hold it any more. */
export function useSeen({
  appointmentId,
  member,
}: Pick<AppointmentHolderProps, 'appointmentId' | 'member'>): Seen | null {
  const { world } = useWorld()
  const now = useJudgingMoment()
  return useMemo(
    () => seeAppointment(world, { appointmentId, member, now }),
    [world, appointmentId, member, now],
  )
}

export const APPOINTMENT_GONE: Trouble = {
  what: 'This appointment is not here.',
  why: 'It may have been moved to another clinic’s list or entered in error.',
  todo: 'Go back to the board and open it from there.',
}

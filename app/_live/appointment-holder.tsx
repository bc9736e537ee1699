'use client'
import type { ReactNode } from 'react'
import type { Zone } from '#shared/base/moment.ts'
import { findFact } from '#shared/facts.ts'
import type { AppointmentId } from '#shared/ids.ts'
import type { Member } from '#shared/people/clinic.ts'
import { makeWindow } from '#shared/window.ts'
import { type HeldWorld, stepWorld } from './held.ts'
import { LiveProvider } from './provider.tsx'
import { server } from './server.ts'

export interface AppointmentHolderProps {
  appointmentId: AppointmentId
  /** Who looks. */
  member: Member
  snapshot: HeldWorld
}

/** Holds all that hangs on one appointment up to date. */
export function AppointmentHolder({
  appointmentId,
  snapshot,
  children,
}: AppointmentHolderProps & { children: ReactNode }) {
  const appointment = findFact(snapshot.world, 'appointment', appointmentId)
  return (
    <LiveProvider
      window={makeWindow({ kind: 'appointment', appointmentId })}
      zone={appointment?.zone ?? ('UTC' as Zone)}
      snapshot={snapshot}
      step={stepWorld}
      again={() => server.appointments.window.query({ appointmentId })}
    >
      {children}
    </LiveProvider>
  )
}

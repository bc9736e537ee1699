'use client'
import { lazy, Suspense } from 'react'
import type { DayOf } from '#app/_live/day-of.ts'
import { can } from '#shared/people/role.ts'

const ClockSteps = lazy(() => import('./clock-steps.tsx'))

/** Moves the clock of the invented clinic, for all its screens. A real clinic never has it, nor fetches it. */
export function ClockPanel({ of }: { of: DayOf }) {
  if (!of.clinic.invented || !can(of.member.roles, 'clock:move')) return null
  return (
    <Suspense fallback={null}>
      <ClockSteps of={of} />
    </Suspense>
  )
}

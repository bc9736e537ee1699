'use client'
import { lazy, Suspense } from 'react'
import type { DayOf } from '#app/_live/day-of.ts'
import { useMoment } from '#app/_live/use-moment.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { dayOf } from '#shared/base/moment.ts'
import { judgeStartOfDay } from '#shared/people/start-of-day.ts'

const StartLines = lazy(() => import('./start-lines.tsx'))

/** On top of today's board until somebody has looked over what must be at hand; then nothing. */
export function StartOfDay({ of }: { of: DayOf }) {
  const { world } = useWorld()
  const now = useMoment()
  const site = world.site.find(({ id }) => id === of.site.id)
  const open = site && dayOf(now, site.zone) === of.day ? judgeStartOfDay(site, of.day) : []
  if (open.length === 0) return null
  return (
    <Suspense fallback={null}>
      <StartLines open={open} of={of} />
    </Suspense>
  )
}

'use client'
import type { ReactNode } from 'react'
import { ClockPanel } from '#app/_frame/clock-panel.tsx'
import type { DayOf } from '#app/_live/day-of.ts'
import { type HeldWorld, stepWorld } from '#app/_live/held.ts'
import { LiveProvider } from '#app/_live/provider.tsx'
import { server } from '#app/_live/server.ts'
import { makeWindow } from '#shared/window.ts'

export interface BenchHolderProps {
  of: DayOf
  snapshot: HeldWorld
}

/** Holds a site's day at the steriliser up to date. */
export function BenchHolder({ of, snapshot, children }: BenchHolderProps & { children: ReactNode }) {
  const window = { siteId: of.site.id, day: of.day }
  return (
    <LiveProvider
      window={makeWindow({ kind: 'sterility', ...window })}
      zone={of.site.zone}
      snapshot={snapshot}
      step={stepWorld}
      again={() => server.sterility.window.query(window)}
    >
      {children}
      <ClockPanel of={of} />
    </LiveProvider>
  )
}

'use client'
import type { ReactNode } from 'react'
import { ClockPanel } from '#app/_frame/clock-panel.tsx'
import type { DayOf } from '#app/_live/day-of.ts'
import { type HeldWorld, stepWorld } from '#app/_live/held.ts'
import { LiveProvider } from '#app/_live/provider.tsx'
import { server } from '#app/_live/server.ts'
import { makeWindow } from '#shared/window.ts'

export interface StockHolderProps {
  of: DayOf
  snapshot: HeldWorld
}

/** Holds the clinic's shelf, and what is on its way between sites, up to date. */
export const StockHolder = ({ of, snapshot, children }: StockHolderProps & { children: ReactNode }) => (
  <LiveProvider
    window={makeWindow({ kind: 'stock' })}
    zone={of.site.zone}
    snapshot={snapshot}
    step={stepWorld}
    again={() => server.stock.window.query()}
  >
    {children}
    <ClockPanel of={of} />
  </LiveProvider>
)

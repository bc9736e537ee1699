'use client'
import type { Seen } from '#app/_live/seen.ts'
import { useWallLanes } from '#app/_live/use-wall-lanes.ts'
import { WaitingLine } from '#app/_ui/waiting-line.tsx'
import { lanesElsewhere } from './elsewhere.ts'

/** A message that else is carried on foot: which other chair waits for whoever treats here. It moves nothing over the drawing. */
export function WaitsElsewhere({ seen }: { seen: Seen }) {
  const { siteId, day } = seen.facts.appointment
  return <WaitingLine lanes={lanesElsewhere(useWallLanes({ siteId, day }), seen)} />
}

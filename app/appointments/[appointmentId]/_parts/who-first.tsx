'use client'
import type { ReactNode } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { minutesBetween } from '#shared/base/moment.ts'
import { hasReached } from '#shared/readiness/gates.ts'
import { Identify } from './identify.tsx'

/** How long an answer to who it is stands before what is named anew (COMMON). */
const JUST_ASKED_MINUTES = 5

/** Mouth and plan differ: once someone sits here, who it is is asked again before the work can be named otherwise. */
export function WhoFirst({ seen, children }: { seen: Seen; children: ReactNode }) {
  const performing = usePerform()
  const { visit } = seen.facts
  if (!hasReached(seen.readiness.line.stage, 'seated')) return children
  const asked = visit?.identity?.at
  if (asked !== undefined && minutesBetween(asked, seen.now) < JUST_ASKED_MINUTES) return children
  return (
    <>
      <p>First who, then what: where mouth and plan differ it may be another patient.</p>
      <Identify seen={seen} performing={performing} />
      <OutcomeBox outcome={performing.outcome} />
    </>
  )
}

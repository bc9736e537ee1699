'use client'
import type { ReactNode } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { asksWhoFirst } from '#shared/procedures/who-first.ts'
import { Identify } from './identify.tsx'

/** Mouth and plan differ: once someone sits here, who it is is asked again before the work can be named otherwise. */
export function WhoFirst({ seen, children }: { seen: Seen; children: ReactNode }) {
  const performing = usePerform()
  if (!asksWhoFirst(seen.facts.visit, seen.now)) return children
  return (
    <>
      <p>First who, then what: where mouth and plan differ it may be another patient.</p>
      <Identify seen={seen} performing={performing} />
      <OutcomeBox outcome={performing.outcome} />
    </>
  )
}

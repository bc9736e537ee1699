'use client'
import { useLive } from '#app/_live/provider.tsx'
import type { Seen } from '#app/_live/seen.ts'
import { type Outcome, usePerform } from '#app/_live/use-perform.ts'
import { useWorld } from '#app/_live/use-world.ts'
import type { Guide } from '#shared/isolation/guide-facts.ts'
import { can } from '#shared/people/role.ts'
import { type GuideStep, isTickOf, type Part, type Tick } from './guide-steps.ts'

export interface Ticks {
  /** Steps of this part of the plan that stands, in the order in which they were touched. */
  ticks: readonly Tick[]
  tick: (step: GuideStep) => Promise<void>
  untick: (step: GuideStep) => Promise<void>
  busy: boolean
  outcome: Outcome | null
  /** Whether whoever looks may place, and so tick. */
  mayTick: boolean
}

/** Steps done at this chair, as every screen that looks sees them. */
export function useTicks(seen: Seen, part: Part): Ticks {
  const { now } = useLive()
  const { world } = useWorld()
  const { perform, busy, outcome } = usePerform()
  const { appointment, plan } = seen.facts
  const planNumber = plan?.number ?? 0
  const tell = async ({ number, step }: GuideStep, done: boolean) => {
    await perform(
      'guide.tick',
      { appointmentId: appointment.id, planNumber, part, sheet: number, step: step.name, done, at: now() },
      done ? 'Done.' : 'One step back.',
    )
  }
  return {
    ticks: ticksOf(world.guide.find((guide) => guide.appointmentId === appointment.id)).filter(
      isTickOf({ planNumber, part }),
    ),
    tick: (step) => tell(step, true),
    untick: (step) => tell(step, false),
    busy,
    outcome,
    mayTick: can(seen.member.roles, 'dam:place'),
  }
}

const ticksOf = (guide: Guide | undefined): readonly Tick[] =>
  [...(guide?.ticks ?? [])].sort((a, b) => a.at - b.at)

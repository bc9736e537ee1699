import type { Day, Instant } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import type { SiteId } from '#shared/ids.ts'
import type { AppointmentFacts } from '#shared/readiness/day-index.ts'
import { findAppointment, indexDay, stands } from '#shared/readiness/day-index.ts'
import { isBefore, stageOf } from '#shared/readiness/gates.ts'
import { isQuiet, startBy } from '#shared/trays/lifecycle.ts'
import type { Tray } from '#shared/trays/tray.ts'

export interface Queued {
  facts: AppointmentFacts
  tray: Tray
  /** When it must be begun; null while the clinic has no policy to say so. */
  startBy: Instant | null
  /** Claimed, and not touched for longer than the clinic allows: anyone may claim it. */
  quiet: boolean
}

/** Trays of a site's day that are not in use yet, the one that must be begun first on top. */
export function queueOf(
  world: World,
  { siteId, day, now }: { siteId: SiteId; day: Day; now: Instant },
): Queued[] {
  const index = indexDay(world)
  return world.appointment
    .filter((each) => each.siteId === siteId && each.day === day && stands(each))
    .flatMap((appointment): Queued[] => {
      const facts = findAppointment(index, appointment.id)
      const tray = facts?.tray
      if (!facts || !tray || !isWaiting(facts, tray)) return []
      const begin = index.policy === null ? null : startBy(appointment, index.policy)
      return [{ facts, tray, startBy: begin, quiet: isQuiet(tray, index.policy, now) }]
    })
    .sort((a, b) => (a.startBy ?? a.facts.appointment.start) - (b.startBy ?? b.facts.appointment.start))
}

const isWaiting = (facts: AppointmentFacts, { life }: Tray): boolean =>
  isBefore(stageOf(facts), 'clamped') &&
  life.kind !== 'opened' &&
  life.kind !== 'counted-back' &&
  life.kind !== 'cleared'

/** Where a tray belongs in the queue: to begin, in someone's hands, or done. */
export type QueuePart = 'begin' | 'in-hand' | 'laid'
export function partOf({ tray, quiet }: Queued): QueuePart {
  switch (tray.life.kind) {
    case 'needed':
    case 'held':
      return 'begin'
    case 'claimed':
      return quiet ? 'begin' : 'in-hand'
    default:
      return 'laid'
  }
}

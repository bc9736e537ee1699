import { addMinutes, type Day, type Instant, type Minutes } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import type { MemberId, SiteId } from '#shared/ids.ts'
import type { AppointmentFacts } from '#shared/readiness/day-index.ts'
import { findAppointment, indexDay, stands } from '#shared/readiness/day-index.ts'
import { isBefore, stageOf } from '#shared/readiness/gates.ts'
import { mustDrawFirst, putAwayTray } from '#shared/readiness/teaching.ts'
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

interface QueueAsked {
  siteId: SiteId
  day: Day
  now: Instant
  /** Who looks. */
  me: MemberId
}

/** Trays of a site's day that are not in use yet, the one that must be begun first on top. */
export function queueOf(world: World, { siteId, day, now, me }: QueueAsked): Queued[] {
  const index = indexDay(world)
  return world.appointment
    .filter((each) => each.siteId === siteId && each.day === day && stands(each))
    .flatMap((appointment): Queued[] => {
      const facts = findAppointment(index, appointment.id)
      const tray = facts?.tray
      if (!facts || !tray || !isWaiting(facts, tray)) return []
      const begin = index.policy === null ? null : startBy(appointment, index.policy)
      const shown = mustDrawFirst(facts, me) ? putAwayTray(tray) : tray
      return [{ facts, tray: shown, startBy: begin, quiet: isQuiet(tray, index.policy, now) }]
    })
    .sort((a, b) => (a.startBy ?? a.facts.appointment.start) - (b.startBy ?? b.facts.appointment.start))
}

const isWaiting = (facts: AppointmentFacts, { life }: Tray): boolean =>
  isBefore(stageOf(facts), 'clamped') &&
  life.kind !== 'opened' &&
  life.kind !== 'counted-back' &&
  life.kind !== 'cleared'

export const QUEUE_PARTS = ['yours', 'begin', 'in-hand', 'laid', 'later'] as const
/** Where a tray belongs in the queue of whoever looks. */
export type QueuePart = (typeof QUEUE_PARTS)[number]

/** A tray that must be begun within this time is shown to be begun; those after it wait folded. */
export const NEAR: Minutes = 60

export function partOf(
  { tray, quiet, startBy }: Queued,
  { me, now }: { me: MemberId; now: Instant },
): QueuePart {
  const { life } = tray
  if (life.kind === 'claimed' && life.by === me) return 'yours'
  if (life.kind === 'claimed' && !quiet) return 'in-hand'
  if (life.kind === 'laid-out' || life.kind === 'checked') return 'laid'
  return startBy !== null && startBy > addMinutes(now, NEAR) ? 'later' : 'begin'
}

/** Whether anyone may claim it now. */
export const isFree = ({ tray: { life }, quiet }: Queued): boolean =>
  life.kind === 'needed' || life.kind === 'held' || (life.kind === 'claimed' && quiet)

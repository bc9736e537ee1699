import { clockTimeOf, type Instant, type Zone } from '../base/moment.ts'
import { findFact, type World } from '../facts.ts'
import type { AppointmentId } from '../ids.ts'
import type { Audience } from '../people/role.ts'
import type { SetForecast, Shortage } from '../sterility/forecast.ts'
import { PACK_KINDS, type PackKind } from '../sterility/sterility-facts.ts'

/** One appointment that finds too few sets, judged where packs may be read and said for who reads it. */
export interface ShortSet {
  appointmentId: AppointmentId
  at: Instant
  /** Null where it has no operatory yet. */
  operatory: string | null
  says: string
}

interface Said {
  world: World
  zone: Zone
  audience: Exclude<Audience, 'wall'>
}

/**
 * Every shortage of the day, the first on top. People at the chair are told what is short and what would mend it; the
 * desk alone that a visit may have to move, and to when.
 */
export const sayShortSets = (forecasts: Record<PackKind, SetForecast>, said: Said): ShortSet[] =>
  PACK_KINDS.flatMap((kind) => forecasts[kind].shortages.map((shortage) => sayShort(kind, shortage, said)))
    .sort((a, b) => a.at - b.at || (a.appointmentId < b.appointmentId ? -1 : 1))
    .filter((line, index, lines) => !isSaidAlready(line, lines.slice(0, index)))

/** To the desk, two kinds that are short for one visit are one task. */
const isSaidAlready = ({ appointmentId, says }: ShortSet, before: readonly ShortSet[]): boolean =>
  before.some((line) => line.appointmentId === appointmentId && line.says === says)

function sayShort(
  kind: PackKind,
  { id, at, short, back }: Shortage,
  { world, zone, audience }: Said,
): ShortSet {
  const appointment = findFact(world, 'appointment', id as AppointmentId)
  const operatory = findFact(world, 'operatory', appointment?.operatoryId ?? null)
  const backAt = back === null ? null : clockTimeOf(back, zone)
  return {
    appointmentId: id as AppointmentId,
    at,
    operatory: operatory?.name ?? null,
    says: audience === 'desk' ? sayTask(backAt) : sayLack(kind, short, backAt),
  }
}

const sayTask = (backAt: string | null): string =>
  backAt === null
    ? 'This appointment may have to move to another day or place. Ask the steriliser lead.'
    : `This appointment may have to move, to ${backAt} or swapped with a later one. Ask the steriliser lead.`

function sayLack(kind: PackKind, short: number, backAt: string | null): string {
  const sets = `${short} ${kind.replaceAll('-', ' ')}${short === 1 ? '' : 's'} short`
  const move = backAt === null ? '' : `move the visit to ${backAt}, when enough are back, `
  return `${sets}: borrow, ${move}run a load sooner, or swap chairs with a later visit.`
}

import type { Day, Instant } from '../base/moment.ts'
import { addMinutes, instant } from '../base/moment.ts'
import type { World } from '../facts.ts'
import type { AppointmentId, SiteId } from '../ids.ts'
import type { SterilityFinding } from './findings.ts'
import { forecastSets, type SetForecast } from './forecast.ts'
import { isUsable } from './pack.ts'
import { type InstrumentSet, PACK_KINDS, type PackKind } from './sterility-facts.ts'
import { type TurnaroundTime, turnaroundOf } from './turnaround.ts'

export interface ForecastAt {
  siteId: SiteId
  day: Day
  now: Instant
  /** Where the day's lateness pushes a start, by appointment; as booked where it says nothing. */
  expected?: ReadonlyMap<AppointmentId, Instant>
}

const OVER = new Set(['cancelled', 'noshow', 'entered-in-error', 'fulfilled', 'proposed', 'waitlist'])

/**
 * The day's sets of each kind at one site, from what the trays still need. Packs already on a tray are that
 * tray's own; dirty sets and sets in transit are no stock, a set being processed is back after the turnaround.
 * While no steriliser of the site serves, none comes back.
 */
export function forecastDay(world: World, at: ForecastAt): Record<PackKind, SetForecast> {
  const forecasts = PACK_KINDS.map((kind) => [kind, forecastKind(world, kind, at)] as const)
  return Object.fromEntries(forecasts) as Record<PackKind, SetForecast>
}

function forecastKind(world: World, kind: PackKind, at: ForecastAt): SetForecast {
  const turnaround = turnaroundOf(world.policySet[0] ?? null)
  const down = isDown(world, at.siteId)
  return forecastSets({
    needs: needsOf(world, kind, at),
    sets: onShelf(world, kind, at),
    turnaroundMinutes: down ? null : turnaround.minutes,
    returning: down ? [] : returningOf(world, kind, { ...at, turnaround }),
  })
}

/** No steriliser of this site is in service: what is used does not come back. */
export const isDown = (world: World, siteId: SiteId): boolean =>
  !world.steriliser.some((each) => each.siteId === siteId && each.life.kind === 'in-service')

function needsOf(world: World, kind: PackKind, { siteId, day, now, expected }: ForecastAt) {
  const appointments = world.appointment.filter(
    (each) =>
      each.siteId === siteId &&
      each.day === day &&
      !OVER.has(each.status) &&
      addMinutes(each.start, each.minutes) > now,
  )
  return appointments.map(({ id, start, minutes }) => ({
    id,
    // Who is late still needs a set, from now on.
    start: instant(Math.max(expected?.get(id) ?? start, now)),
    minutes,
    sets: setsOf(world, kind, id),
  }))
}

/** Lines that still wait for a pack of this kind. */
function setsOf(world: World, kind: PackKind, appointmentId: string): number {
  const trays = new Set(
    world.tray.filter((tray) => tray.appointmentId === appointmentId).map((tray) => tray.id),
  )
  return world.trayLine.filter(
    (line) =>
      trays.has(line.trayId) && line.packKind === kind && line.packId === null && line.omitted === null,
  ).length
}

/** Sterile and free, as a scan would judge it now. */
const onShelf = (world: World, kind: PackKind, { siteId, now }: ForecastAt): number =>
  world.pack.filter((pack) => pack.kind === kind && pack.siteId === siteId && isUsable(world, pack, now))
    .length

/** Sets in a chair are back after its end and the turnaround; what is dirty or in process, when it is through. */
function returningOf(
  world: World,
  kind: PackKind,
  { siteId, now, turnaround }: ForecastAt & { turnaround: TurnaroundTime },
): Instant[] {
  const inChair = world.pack.flatMap((pack) => {
    const { life } = pack
    if (pack.kind !== kind || pack.siteId !== siteId || (life.kind !== 'opened' && life.kind !== 'reserved'))
      return []
    const tray = life.kind === 'reserved' ? world.tray.find((each) => each.id === life.trayId) : null
    const appointmentId = life.kind === 'opened' ? life.appointmentId : tray?.appointmentId
    const appointment = world.appointment.find((each) => each.id === appointmentId)
    return appointment ? [addMinutes(appointment.start, appointment.minutes + turnaround.minutes)] : []
  })
  const processing = world.instrumentSet
    .filter((set) => set.kind === kind)
    .flatMap((set) => backFrom(set, { siteId, now, turnaround }))
  return [...inChair, ...processing].filter((back) => back > now)
}

/**
 * A dirty set has all of it before it, whenever it was put there. One that is wrapped has cycle and cooling left,
 * where these are measured; one that should be back and is not is taken as begun now.
 */
function backFrom(
  { place }: InstrumentSet,
  { siteId, now, turnaround }: Pick<ForecastAt, 'siteId' | 'now'> & { turnaround: TurnaroundTime },
): Instant[] {
  if (place.kind === 'dirty' && place.siteId === siteId) return [addMinutes(now, turnaround.minutes)]
  if (place.kind !== 'processing' || place.siteId !== siteId) return []
  const { measured, minutes } = turnaround
  const left = measured === null ? minutes : measured.cycle + measured.cool
  const back = addMinutes(place.since, left)
  return [back > now ? back : addMinutes(now, left)]
}

/** The first shortage of each kind as a finding. */
export const judgeSets = (forecasts: Record<PackKind, SetForecast>): SterilityFinding[] =>
  PACK_KINDS.flatMap((kind) => {
    const { first } = forecasts[kind]
    if (first === null) return []
    const { id, at, short, back } = first
    return [
      {
        rule: 'sets/short' as const,
        level: 'ask' as const,
        about: `appointment:${id}`,
        kind,
        at,
        short,
        back,
      },
    ]
  })

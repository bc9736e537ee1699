import { isDeepStrictEqual } from 'node:util'
import { asClinic } from '#db/as-clinic.ts'
import type { Database } from '#db/database.ts'
import { readBesideDay } from '#db/read.ts'
import type { Instant } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import type { ClinicId } from '#shared/ids.ts'
import type { Audience } from '#shared/people/role.ts'
import { forecastSetsOf } from '#shared/readiness/day-sets.ts'
import type { Window } from '#shared/window.ts'
import { type ShortSet, sayShortSets } from '#shared/words/short-sets.ts'
import { type Encoded, encodeEvent, type HeldWindow } from './held-window.ts'

/** Which of a day's appointments find too few sets, said for each audience; empty for the corridor and other windows. */
export type ShortSets = Record<Audience, ShortSet[]>
const NONE_SHORT: ShortSets = { clinical: [], desk: [], wall: [] }

type DayWindow = Extract<Window, { kind: 'day' }>

/**
 * A day's window holds no packs, so they are read beside it, without the day's own facts, and judged here: a board
 * would else carry hundreds of packs, loads and tests for a line or none.
 */
export async function judgeShort(
  database: Database,
  clinicId: ClinicId,
  { held, now }: { held: HeldWindow; now: () => Instant },
): Promise<ShortSets> {
  const { window } = held
  if (window.kind !== 'day') return NONE_SHORT
  const beside = await asClinic(database, clinicId, (tx) => readBesideDay(tx, clinicId, window), 'read')
  return shortIn(withBeside(held.world, beside), window, now())
}

const withBeside = (day: World, beside: World): World => ({
  ...day,
  steriliser: beside.steriliser,
  load: beside.load,
  indicator: beside.indicator,
  instrumentSet: beside.instrumentSet,
  pack: beside.pack,
  trayLine: beside.trayLine,
})

function shortIn(world: World, { siteId, day }: DayWindow, now: Instant): ShortSets {
  const site = world.site.find(({ id }) => id === siteId)
  if (!site) return NONE_SHORT
  const forecasts = forecastSetsOf(world, { siteId, day, now })
  const said = (audience: 'clinical' | 'desk') =>
    sayShortSets(forecasts, { world, zone: site.zone, audience })
  return { clinical: said('clinical'), desk: said('desk'), wall: [] }
}

/** So long after a change it is judged anew, once for all that come meanwhile: no screen waits for it. */
const AFTER_MS = 500

export interface ShortDoors {
  judge: () => Promise<ShortSets>
  /** Called when what is short differs from what was told. */
  tell: () => void
  fail: (error: unknown) => void
}

export interface ShortFollower {
  sets: () => ShortSets
  /** Something changed, or a minute went by. */
  soon: () => void
}

export async function followShort({ judge, tell, fail }: ShortDoors): Promise<ShortFollower> {
  let sets = await judge()
  let waiting = false
  const again = async (): Promise<void> => {
    waiting = false
    const judged = await judge()
    if (isDeepStrictEqual(sets, judged)) return
    sets = judged
    tell()
  }
  return {
    sets: () => sets,
    soon: () => {
      if (waiting) return
      waiting = true
      setTimeout(() => void again().catch(fail), AFTER_MS).unref()
    },
  }
}

/** All that is short, for one audience; the same list replaces what a screen held. */
export const shortEvent = (revision: number, at: Instant, short: ShortSet[]): Encoded =>
  encodeEvent('short', revision, { at, short })

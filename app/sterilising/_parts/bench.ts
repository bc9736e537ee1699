import type { DayOf } from '#app/_live/day-of.ts'
import type { Instant } from '#shared/base/moment.ts'
import { dayOf } from '#shared/base/moment.ts'
import { findFact, type World } from '#shared/facts.ts'
import { forecastSetsOf } from '#shared/readiness/day-sets.ts'
import { judgeSets } from '#shared/sterility/day-forecast.ts'
import type { SterilityFinding } from '#shared/sterility/findings.ts'
import type { SetForecast } from '#shared/sterility/forecast.ts'
import { isTestLoad, judgeLoad } from '#shared/sterility/load.ts'
import { isUsable, judgeContents, judgePack, sightOf } from '#shared/sterility/pack.ts'
import { judgeSteriliser } from '#shared/sterility/spore-test.ts'
import {
  type Indicator,
  type InstrumentSet,
  type Load,
  PACK_KINDS,
  type Pack,
  type PackKind,
  type Steriliser,
} from '#shared/sterility/sterility-facts.ts'

/** Who stands at the steriliser, what they hold, and when it is. */
export interface Bench {
  of: DayOf
  world: World
  now: Instant
}

export interface StandingSteriliser {
  steriliser: Steriliser
  findings: SterilityFinding[]
  spores: Indicator[]
  /** Air-removal tests of today. */
  airTests: Indicator[]
}

const byPlaced = (a: Indicator, b: Indicator): number => b.placed - a.placed

/** Sterilisers of the site with what stands open on them, newest test first. */
export function sterilisersOf({ world, of, now }: Bench): StandingSteriliser[] {
  return world.steriliser
    .toSorted((a, b) => a.name.localeCompare(b.name, 'en', { numeric: true }))
    .map((steriliser) => {
      const own = world.indicator.filter(({ steriliserId }) => steriliserId === steriliser.id).sort(byPlaced)
      return {
        steriliser,
        findings: judgeSteriliser(steriliser, own, now),
        spores: own.filter(({ kind }) => kind === 'spore'),
        airTests: own.filter(
          ({ kind, placed }) => kind === 'air-removal' && dayOf(placed, of.site.zone) === of.day,
        ),
      }
    })
}

export interface StandingLoad {
  load: Load
  steriliser: Steriliser
  packs: Pack[]
  /** Its chemical indicators. */
  indicators: Indicator[]
  /** What keeps it from being released. */
  findings: SterilityFinding[]
  /** What it wants before it runs, by what is in it. */
  wants: SterilityFinding[]
}

/** Loads, the newest first: those that need a hand, then the rest. */
export function loadsOf({ world, of }: Bench): StandingLoad[] {
  return world.load
    .toSorted((a, b) => b.started - a.started)
    .flatMap((load) => {
      const steriliser = findFact(world, 'steriliser', load.steriliserId)
      if (!steriliser) return []
      const own = world.indicator.filter((each) => each.steriliserId === steriliser.id)
      return [
        {
          load,
          steriliser,
          packs: world.pack.filter((pack) => pack.loadId === load.id),
          indicators: own.filter((each) => each.loadId === load.id && each.kind === 'chemical'),
          findings: judgeLoad(load, { steriliser, indicators: own, zone: of.site.zone }),
          wants: judgeContents(load, { packs: world.pack, indicators: own }),
        },
      ]
    })
}

/** Running, or waiting to be released; a test cycle that has ended carries nothing that could be. */
export const isOpen = ({ load }: StandingLoad): boolean =>
  load.life.kind === 'running' || (load.life.kind === 'ended' && !isTestLoad(load))

const FIRST_PLACE = 'clean side, shelf 1'

/** Places on this site's shelf that are in use, the fullest first. */
export function placesOf({ world, of }: Bench): string[] {
  const count = new Map<string, number>([[FIRST_PLACE, 0]])
  for (const { life, siteId } of world.pack) {
    if (life.kind === 'shelf' && siteId === of.site.id)
      count.set(life.place, (count.get(life.place) ?? 0) + 1)
  }
  return [...count].sort((a, b) => b[1] - a[1]).map(([place]) => place)
}

/** Sets that lie dirty here, by kind and mark. */
export const dirtySets = ({ world, of }: Bench): InstrumentSet[] =>
  world.instrumentSet
    .filter(({ place }) => place.kind === 'dirty' && place.siteId === of.site.id)
    .sort((a, b) => a.mark.localeCompare(b.mark, 'en', { numeric: true }))

export interface KindForecast {
  kind: PackKind
  forecast: SetForecast
  /** Packs of the kind that could go on a tray now. */
  onShelf: number
  findings: SterilityFinding[]
}

/** The day's sets of every kind it needs, with the lateness that the board expects. */
export function forecastOf({ world, of, now }: Bench): KindForecast[] {
  const at = { siteId: of.site.id, day: of.day, now }
  const forecasts = forecastSetsOf(world, at)
  const findings = judgeSets(forecasts)
  return PACK_KINDS.filter((kind) => forecasts[kind].needed > 0 || forecasts[kind].first !== null).map(
    (kind) => ({
      kind,
      forecast: forecasts[kind],
      onShelf: world.pack.filter(
        (pack) => pack.kind === kind && pack.siteId === of.site.id && isUsable(world, pack, now),
      ).length,
      findings: findings.filter((finding) => 'kind' in finding && finding.kind === kind),
    }),
  )
}

/** What stands against a pack of this site; one that was brought here unscanned stands at another. */
export function judged(pack: Pack, { world, now }: Bench): SterilityFinding[] {
  const sight = sightOf(world, pack, now)
  return sight === null ? [] : judgePack(pack, sight)
}

export const PACK_PARTS = ['usable', 'waiting', 'held', 'on-tray', 'in-transit', 'opened'] as const
export type PackPart = (typeof PACK_PARTS)[number]

/** Where a pack stands on this screen; null for what is gone. */
export function partOfPack(pack: Pack, bench: Bench): PackPart | null {
  switch (pack.life.kind) {
    case 'shelf':
      return isUsable(bench.world, pack, bench.now) ? 'usable' : 'waiting'
    case 'reserved':
      return 'on-tray'
    case 'held':
      return 'held'
    case 'in-transit':
      return 'in-transit'
    case 'opened':
      return 'opened'
    case 'returned':
      return null
  }
}

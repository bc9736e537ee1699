import { type Day, dayOf, type Instant } from '../base/moment.ts'
import { findFact, type World } from '../facts.ts'
import type { PolicySet } from '../people/policy-set.ts'
import type { SterilityFinding } from './findings.ts'
import type { Indicator, InstrumentSet, Load, Pack, PackKind } from './sterility-facts.ts'

/** Kinds whose load waits for its spore test: what goes with implants and surgery. */
export const IMPLANT_KINDS: readonly PackKind[] = ['surgical-set']
export const isImplantKind = (pack: Pick<Pack, 'kind'>): boolean => IMPLANT_KINDS.includes(pack.kind)

export interface PackSight {
  /** The load it came out of, as the world holds it; null where it is not known. */
  load: Load | null
  indicators: readonly Indicator[]
  packAge: PolicySet['sterility']['packAge']
  today: Day
}

/** What a world says of a pack, on the day that it is now where the pack stands; null: its site is not known. */
export function sightOf(world: World, pack: Pack, now: Instant): PackSight | null {
  const site = findFact(world, 'site', pack.siteId)
  return site ? { ...sightWithin(world, pack), today: dayOf(now, site.zone) } : null
}

const sightWithin = (world: World, { loadId }: Pack): Omit<PackSight, 'today'> => ({
  load: findFact(world, 'load', loadId) ?? null,
  indicators: world.indicator,
  packAge: world.policySet[0]?.sterility.packAge ?? { kind: 'unset' },
})

/** On the shelf, and nothing that is known stands against it. */
export function isUsable(world: World, pack: Pack, now: Instant): boolean {
  const sight = pack.life.kind === 'shelf' ? sightOf(world, pack, now) : null
  return sight !== null && judgePack(pack, sight).every(({ level }) => level === 'note')
}

/** Sent to another site and not scanned in there: the pack itself, or the set that is wrapped in it. */
export const isOnItsWay = (pack: Pick<Pack, 'life'>, set: InstrumentSet | undefined): boolean =>
  pack.life.kind === 'in-transit' || set?.place.kind === 'in-transit'

/** Whether a pack may go on a tray. A pack of which anything is not known is not sterile. */
export function judgePack(pack: Pack, sight: PackSight): SterilityFinding[] {
  const about = `pack:${pack.id}`
  const { code } = pack
  switch (pack.life.kind) {
    case 'held':
      return [{ rule: 'pack/held', level: 'stop', about, code, why: pack.life.why }]
    case 'in-transit':
      return [{ rule: 'pack/on-its-way', level: 'stop', about, code }]
    case 'opened':
    case 'returned':
      return [{ rule: 'pack/used', level: 'stop', about, code }]
    default:
      return [...judgeSource(pack, sight), ...judgeAge(pack, sight), ...judgeSeen(pack)]
  }
}

function judgeSource(pack: Pack, { load, indicators }: PackSight): SterilityFinding[] {
  const about = `pack:${pack.id}`
  const { code } = pack
  if (load === null) return [{ rule: 'pack/load-unknown', level: 'stop', about, code }]
  if (load.life.kind === 'failed') {
    return [{ rule: 'pack/load-failed', level: 'stop', about, code, load: load.number }]
  }
  if (load.life.kind !== 'released') {
    return [{ rule: 'pack/not-released', level: 'stop', about, code, load: load.number }]
  }
  return isImplantKind(pack) ? judgeImplants(pack, load, indicators) : []
}

/** Every load with what goes with implants carries a spore test, and waits for it. One that says nothing is none. */
function judgeImplants({ id, code }: Pack, load: Load, indicators: readonly Indicator[]): SterilityFinding[] {
  const about = `pack:${id}`
  const spores = sporesOf(load, indicators)
  if (spores.some(({ life }) => life.kind === 'pending')) {
    return [{ rule: 'pack/spore-pending', level: 'stop', about, code, load: load.number }]
  }
  return spores.some(({ life }) => life.kind === 'read' && life.result !== 'invalid')
    ? []
    : [{ rule: 'pack/spore-missing', level: 'stop', about, code, load: load.number }]
}

const sporesOf = (load: Load, indicators: readonly Indicator[]): Indicator[] =>
  indicators.filter(({ loadId, kind }) => loadId === load.id && kind === 'spore')

/** What a load that is being made up still wants: with a pack for implants in it, a spore test. */
export const judgeContents = (
  load: Load,
  { packs, indicators }: { packs: readonly Pack[]; indicators: readonly Indicator[] },
): SterilityFinding[] =>
  load.life.kind === 'running' &&
  packs.some((pack) => pack.loadId === load.id && isImplantKind(pack)) &&
  sporesOf(load, indicators).length === 0
    ? [{ rule: 'load/spore-missing', level: 'ask', about: `load:${load.id}`, load: load.number }]
    : []

const DAY_MS = 86_400_000
const daysBetween = (from: Day, to: Day): number => Math.round((Date.parse(to) - Date.parse(from)) / DAY_MS)

/** Event-related: sterile until something breaches it. Dated: by the clinic's days. Unset: asked, never assumed. */
function judgeAge(pack: Pack, { packAge, today }: PackSight): SterilityFinding[] {
  const about = `pack:${pack.id}`
  const { code, sterilised } = pack
  // A day that is still to come is no date either: whatever wrote it knows nothing of this pack.
  if (sterilised === null || sterilised > today) return [{ rule: 'pack/undated', level: 'stop', about, code }]
  switch (packAge.kind) {
    case 'event-related':
      return []
    case 'unset':
      return [{ rule: 'pack/age-unset', level: 'ask', about, code }]
    case 'dated': {
      const days = daysBetween(sterilised, today)
      return days > packAge.days
        ? [{ rule: 'pack/too-old', level: 'stop', about, code, sterilised, days, limit: packAge.days }]
        : []
    }
  }
}

/** What a person saw of it, under every policy: torn, wet or unchanged is not sterile. */
export type Seen = Omit<NonNullable<Pack['seen']>, 'by' | 'at'>

function judgeSeen(pack: Pack): SterilityFinding[] {
  return pack.seen === null ? [] : judgeOpening(pack, pack.seen)
}

/** A pack as it is looked at on opening. */
export function judgeOpening(pack: Pick<Pack, 'id' | 'code'>, seen: Seen | null): SterilityFinding[] {
  const about = `pack:${pack.id}`
  const { code } = pack
  if (seen === null) return [{ rule: 'pack/not-looked-at', level: 'stop', about, code }]
  const findings: SterilityFinding[] = []
  if (seen.outside === 'torn') findings.push({ rule: 'pack/torn', level: 'stop', about, code })
  if (seen.outside === 'wet') findings.push({ rule: 'pack/wet', level: 'stop', about, code })
  if (seen.outer === 'not-changed') {
    findings.push({ rule: 'pack/not-changed', level: 'stop', about, code, mark: 'outer' })
  }
  if (seen.inner === 'not-changed') {
    findings.push({ rule: 'pack/not-changed', level: 'stop', about, code, mark: 'inner' })
  }
  if (seen.inner === 'not-seen') findings.push({ rule: 'pack/inner-not-seen', level: 'stop', about, code })
  return findings
}

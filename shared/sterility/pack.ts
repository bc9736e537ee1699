import type { Day } from '../base/moment.ts'
import type { PolicySet } from '../people/policy-set.ts'
import type { SterilityFinding } from './findings.ts'
import type { Indicator, Load, Pack, PackKind } from './sterility-facts.ts'

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

/** Whether a pack may go on a tray. A pack of which anything is not known is not sterile. */
export function judgePack(pack: Pack, sight: PackSight): SterilityFinding[] {
  const about = `pack:${pack.id}`
  const { code } = pack
  switch (pack.life.kind) {
    case 'held':
      return [{ rule: 'pack/held', level: 'stop', about, code, why: pack.life.why }]
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
  return isImplantKind(pack) && hasPendingSpore(load, indicators)
    ? [{ rule: 'pack/spore-pending', level: 'stop', about, code, load: load.number }]
    : []
}

const hasPendingSpore = (load: Load, indicators: readonly Indicator[]): boolean =>
  indicators.some(
    ({ loadId, kind, life }) => loadId === load.id && kind === 'spore' && life.kind === 'pending',
  )

const DAY_MS = 86_400_000
const daysBetween = (from: Day, to: Day): number => Math.round((Date.parse(to) - Date.parse(from)) / DAY_MS)

/** Event-related: sterile until something breaches it. Dated: by the clinic's days. Unset: asked, never assumed. */
function judgeAge(pack: Pack, { packAge, today }: PackSight): SterilityFinding[] {
  const about = `pack:${pack.id}`
  const { code, sterilised } = pack
  if (sterilised === null) return [{ rule: 'pack/undated', level: 'stop', about, code }]
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

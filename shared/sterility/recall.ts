import { type Day, dayOf, type Instant } from '../base/moment.ts'
import { type Change, joinChanges, nothing, putting } from '../change.ts'
import { findFact, type World } from '../facts.ts'
import type {
  AppointmentId,
  IndicatorId,
  LoadId,
  PackId,
  PatientId,
  SiteId,
  SteriliserId,
  TrayId,
} from '../ids.ts'
import { withSummary } from '../trays/summary.ts'
import type { Tray, TrayLine } from '../trays/tray.ts'
import type { SterilityFinding } from './findings.ts'
import { isUsable } from './pack.ts'
import { lastNegative } from './spore-test.ts'
import type { Load, Pack } from './sterility-facts.ts'

/** Where a recall starts. A span is from its first instant on, up to its last where one is named. */
export type RecallFrom =
  | { kind: 'load'; loadId: LoadId }
  | { kind: 'pack'; packId: PackId }
  | { kind: 'steriliser'; steriliserId: SteriliserId; since: Instant | null; until: Instant | null }
  | { kind: 'indicator'; indicatorId: IndicatorId }
  /** Every load begun on a day of its own site's, in one steriliser or, where none is named, in all that are read. */
  | { kind: 'day'; day: Day; steriliserId: SteriliserId | null }

export interface RecalledPack {
  packId: PackId
  code: string
  loadId: LoadId | null
  /** Where it is now: a place on the shelf, a tray, on its way to another site, or used for a patient. */
  where:
    | { kind: 'shelf'; place: string }
    | { kind: 'transit'; to: SiteId }
    | { kind: 'tray'; trayId: TrayId }
    | { kind: 'used'; appointmentId: AppointmentId; patientId: PatientId | null; at: Instant }
    | { kind: 'gone' }
}

export interface Recall {
  loads: LoadId[]
  packs: RecalledPack[]
  trays: { trayId: TrayId; appointmentId: AppointmentId; replacements: PackId[] }[]
  patients: { patientId: PatientId; appointmentId: AppointmentId; at: Instant; codes: string[] }[]
  /** Packs whose load nobody recorded: they may or may not belong, and nobody can narrow it. */
  cannotNarrow: PackId[]
}

/** The loads a recall starts from. A failing test reaches back to the last negative one of the same steriliser. */
export function suspectLoads(world: World, from: RecallFrom): Load[] {
  switch (from.kind) {
    case 'load':
      return world.load.filter((load) => load.id === from.loadId)
    case 'pack': {
      const pack = findFact(world, 'pack', from.packId)
      return world.load.filter((load) => load.id === pack?.loadId)
    }
    case 'steriliser':
      return world.load.filter((load) => load.steriliserId === from.steriliserId && isWithin(load, from))
    case 'indicator':
      return loadsOfIndicator(world, from.indicatorId)
    case 'day':
      return world.load.filter(
        (load) =>
          beganOn(world, load, from.day) &&
          (from.steriliserId === null || load.steriliserId === from.steriliserId),
      )
  }
}

/** By the clock of the site where its steriliser stands; where that is not known, the load may be meant. */
function beganOn(world: World, load: Load, day: Day): boolean {
  const steriliser = findFact(world, 'steriliser', load.steriliserId)
  const site = findFact(world, 'site', steriliser?.siteId ?? null)
  return site === undefined || dayOf(load.started, site.zone) === day
}

const isWithin = (
  { started }: Load,
  { since, until }: { since: Instant | null; until: Instant | null },
): boolean => (since === null || started >= since) && (until === null || started <= until)

function loadsOfIndicator(world: World, id: IndicatorId): Load[] {
  const indicator = findFact(world, 'indicator', id)
  if (!indicator) return []
  if (indicator.kind === 'chemical') return world.load.filter((load) => load.id === indicator.loadId)
  const own = world.indicator.filter((each) => each.steriliserId === indicator.steriliserId)
  const since = indicator.kind === 'spore' ? lastNegative(own, indicator.placed) : indicator.placed
  return world.load.filter((load) => load.steriliserId === indicator.steriliserId && isAfter(load, since))
}

/** The very load that a negative test was in is proven; everything begun after it is not. */
const isAfter = ({ started }: Load, since: Instant | null): boolean => since === null || started > since

/** Exactly the packs of the suspect loads: none missed, none beyond; `now` is when replacements must be usable. */
export function planRecall(world: World, from: RecallFrom, now: Instant): Recall {
  const suspect = new Set(suspectLoads(world, from).map((load) => load.id))
  const packs = world.pack.flatMap((pack) =>
    pack.loadId !== null && suspect.has(pack.loadId) ? [recalled(world, pack, pack.loadId)] : [],
  )
  return {
    loads: [...suspect],
    packs,
    trays: traysOf(world, packs, { suspect, taken: new Set(), now }),
    patients: patientsOf(packs),
    cannotNarrow: world.pack.filter((pack) => pack.loadId === null).map((pack) => pack.id),
  }
}

function recalled(world: World, pack: Pack, loadId: LoadId): RecalledPack {
  return { packId: pack.id, code: pack.code, loadId, where: whereIs(world, pack) }
}

function whereIs(world: World, { life, id }: Pack): RecalledPack['where'] {
  switch (life.kind) {
    case 'shelf':
      return { kind: 'shelf', place: life.place }
    case 'reserved':
      return { kind: 'tray', trayId: life.trayId }
    case 'in-transit':
      return { kind: 'transit', to: life.to }
    case 'opened': {
      const appointment = findFact(world, 'appointment', life.appointmentId)
      const patientId = appointment?.patientId ?? null
      return { kind: 'used', appointmentId: life.appointmentId, patientId, at: life.at }
    }
    default:
      return usedFor(world, id)
  }
}

/** A pack that came back or is held already: for whom it was used stands in the tray it was on. */
function usedFor(world: World, packId: PackId): RecalledPack['where'] {
  const line = world.trayLine.find((each) => each.packId === packId)
  const tray = findFact(world, 'tray', line?.trayId ?? null)
  const appointment = findFact(world, 'appointment', tray?.appointmentId ?? null)
  const wasUsed = tray && ['opened', 'counted-back', 'cleared'].includes(tray.life.kind)
  return wasUsed && appointment
    ? { kind: 'used', appointmentId: appointment.id, patientId: appointment.patientId, at: appointment.start }
    : { kind: 'gone' }
}

function traysOf(world: World, packs: readonly RecalledPack[], spares: Spares): Recall['trays'] {
  const ids = new Set(packs.flatMap(({ where }) => (where.kind === 'tray' ? [where.trayId] : [])))
  return world.tray
    .filter((tray) => ids.has(tray.id))
    .map((tray) => ({
      trayId: tray.id,
      appointmentId: tray.appointmentId,
      replacements: packs
        .filter(({ where }) => where.kind === 'tray' && where.trayId === tray.id)
        .flatMap(({ packId }) => replacementFor(world, packId, spares)),
    }))
}

/** What may not be named as a replacement: packs of suspect loads, and those named already. */
interface Spares {
  suspect: ReadonlySet<LoadId>
  taken: Set<PackId>
  now: Instant
}

/**
 * A pack of the same kind on the same shelf, from another load, against which nothing stands (load, spore test,
 * age by the clinic's policy, what was seen of it); the one sterilised first. Each is named once.
 */
export function replacementFor(world: World, packId: PackId, { suspect, taken, now }: Spares): PackId[] {
  const pack = findFact(world, 'pack', packId)
  const [spare] = world.pack
    .filter(
      (each) =>
        each.id !== packId &&
        each.kind === pack?.kind &&
        each.siteId === pack.siteId &&
        !(each.loadId !== null && suspect.has(each.loadId)) &&
        !taken.has(each.id) &&
        isUsable(world, each, now),
    )
    .sort(byAge)
  if (!spare) return []
  taken.add(spare.id)
  return [spare.id]
}

/** First in, first out; two of one day by their codes. */
const byAge = (a: Pack, b: Pack): number =>
  (a.sterilised ?? '').localeCompare(b.sterilised ?? '') || (a.code < b.code ? -1 : 1)

function patientsOf(packs: readonly RecalledPack[]): Recall['patients'] {
  const found = new Map<AppointmentId, Recall['patients'][number]>()
  for (const { where, code } of packs) {
    if (where.kind !== 'used' || where.patientId === null) continue
    const known = found.get(where.appointmentId)
    if (known) known.codes.push(code)
    else found.set(where.appointmentId, { ...where, patientId: where.patientId, codes: [code] })
  }
  return [...found.values()].map(({ patientId, appointmentId, at, codes }) => ({
    patientId,
    appointmentId,
    at,
    codes,
  }))
}

/** What a recall does: packs not yet used are held, trays with one of them are held and lose that line's tick. */
export function recallChange(
  world: World,
  recall: Recall,
  { why, now }: { why: string; now: Instant },
): Change {
  const held = recall.packs.filter(({ where }) => UNUSED.includes(where.kind))
  const ids = new Set(held.map(({ packId }) => packId))
  const packs = world.pack
    .filter((pack) => ids.has(pack.id))
    .map((pack): Pack => ({ ...pack, life: { kind: 'held', why, at: now, ...placeOf(pack) } }))
  return joinChanges(
    putting('pack', ...packs),
    ...recall.trays.map((tray) => pull(world, tray, { ids, why, now })),
  )
}

/** Where a pack is that has not touched a patient and can still be held. */
export const UNUSED: readonly RecalledPack['where']['kind'][] = ['shelf', 'tray', 'transit']

/** Where it goes back to, should it be given back. */
const placeOf = ({ life }: Pack): { place?: string } => ('place' in life ? { place: life.place } : {})

function pull(
  world: World,
  { trayId, replacements }: Recall['trays'][number],
  { ids, why, now }: { ids: ReadonlySet<PackId>; why: string; now: Instant },
): Change {
  const tray = findFact(world, 'tray', trayId)
  if (!tray) return nothing
  const lines = world.trayLine
    .filter((line) => line.trayId === trayId)
    .map(
      (line): TrayLine =>
        line.packId !== null && ids.has(line.packId) ? { ...line, packId: null, tick: null } : line,
    )
  const touched = lines.filter((line) => !world.trayLine.includes(line))
  const instead = replacements.flatMap((id) => findFact(world, 'pack', id)?.code ?? [])
  const life: Tray['life'] =
    tray.life.kind === 'held'
      ? { ...tray.life, instead: [...(tray.life.instead ?? []), ...instead] }
      : { kind: 'held', at: now, why, before: tray.life.kind, instead }
  return joinChanges(putting('tray', withSummary({ ...tray, life }, lines)), putting('trayLine', ...touched))
}

/** Who has to be told of a recall, and what nobody can narrow. */
export function judgeRecall(recall: Recall): SterilityFinding[] {
  const { patients, packs, trays, cannotNarrow } = recall
  const about = 'recall'
  const told: SterilityFinding[] = [
    {
      rule: 'recall/patients',
      level: 'note',
      about,
      patients: patients.length,
      packs: packs.length,
      trays: trays.length,
    },
  ]
  return cannotNarrow.length === 0
    ? told
    : [...told, { rule: 'recall/cannot-narrow', level: 'ask', about, packs: cannotNarrow.length }]
}

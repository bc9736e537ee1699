import { z } from 'zod'
import { refuse } from '../base/result.ts'
import { joinChanges, nothing, putting } from '../change.ts'
import { commandRule, type Decision } from '../command.ts'
import { findFact } from '../facts.ts'
import type { InstrumentSetId, LoadId, PackId, SiteId, SteriliserId } from '../ids.ts'
import { reprocess } from '../trays/tray-for.ts'
import { asReleaser, type Bench, done, loadNotNow, onLoad, onPack, onSteriliser } from './decide.ts'
import { isTestLoad } from './load.ts'
import { isOnItsWay } from './pack.ts'
import { makePackCode } from './pack-code.ts'
import { type Recall, type RecalledPack, recallChange, replacementFor } from './recall.ts'
import { sporeStanding } from './spore-test.ts'
import { type InstrumentSet, type Load, PACK_KINDS, type Pack, type PackKind } from './sterility-facts.ts'

const packId = z.uuid().transform((id) => id as PackId)
const loadId = z.uuid().transform((id) => id as LoadId)
const steriliserId = z.uuid().transform((id) => id as SteriliserId)
const setId = z.uuid().transform((id) => id as InstrumentSetId)
const siteId = z.uuid().transform((id) => id as SiteId)
const why = z.string().trim().min(1).max(200)
const place = z.string().trim().min(1).max(60)

interface NewPack {
  kind: PackKind
  setId: InstrumentSetId | null
  place: string
}

/** Wrapped and labelled before it is sterilised: with its load, and a code of its own. */
function makePack(bench: Bench, load: Load, made: NewPack): Decision {
  const { world, context } = bench
  if (isTestLoad(load) || load.life.kind === 'released' || load.life.kind === 'failed')
    return loadNotNow(load)
  const code = makePackCode(context.newId<string>())
  if (world.pack.some((pack) => pack.code === code)) {
    return refuse({ rule: 'pack/code-taken', level: 'stop', about: `load:${load.id}`, code })
  }
  const set = findFact(world, 'instrumentSet', made.setId)
  return onSteriliser(bench, load.steriliserId, (steriliser) => {
    const refusal = made.setId === null ? null : refuseSet(made.setId, set, steriliser.siteId)
    if (refusal) return refusal
    return done(
      joinChanges(
        putting('pack', {
          clinicId: context.clinicId,
          id: context.newId<PackId>(),
          siteId: steriliser.siteId,
          code,
          kind: made.kind,
          setId: made.setId,
          loadId: load.id,
          sterilised: null,
          seen: null,
          life: { kind: 'shelf', place: made.place },
        }),
        set
          ? putting('instrumentSet', {
              ...set,
              place: { kind: 'processing', siteId: steriliser.siteId, since: context.now },
            })
          : nothing,
      ),
    )
  })
}

/** A set is wrapped once: one that is in a pack already, in a chair, on its way or elsewhere is not here to be wrapped. */
function refuseSet(id: InstrumentSetId, set: InstrumentSet | undefined, here: SiteId): Decision | null {
  const about = `set:${id}`
  if (!set) return refuse({ rule: 'pack/set-not-clean', level: 'stop', about, mark: id, place: 'unknown' })
  const { place, mark } = set
  if (place.kind === 'dirty' && place.siteId === here) return null
  const where = place.kind === 'dirty' ? 'at-another-site' : place.kind
  return refuse({ rule: 'pack/set-not-clean', level: 'stop', about, mark, place: where })
}

/** One pack is held by itself; a pack without a load can be held too. */
function holdPack({ world, context }: Bench, pack: Pack, reason: string): Decision {
  const how = { why: reason, now: context.now }
  const where = whereHeldFrom(pack)
  if (pack.life.kind === 'opened' || pack.life.kind === 'returned') {
    return refuse({ rule: 'pack/used', level: 'stop', about: `pack:${pack.id}`, code: pack.code })
  }
  const tray = where.kind === 'tray' ? findFact(world, 'tray', where.trayId) : undefined
  const spares = { suspect: new Set<LoadId>(), taken: new Set<PackId>(), now: context.now }
  const replacements = replacementFor(world, pack.id, spares)
  const recall: Recall = {
    loads: [],
    packs: [{ packId: pack.id, code: pack.code, loadId: pack.loadId, where }],
    trays: tray ? [{ trayId: tray.id, appointmentId: tray.appointmentId, replacements }] : [],
    patients: [],
    cannotNarrow: [],
  }
  return done(recallChange(world, recall, how))
}

const whereHeldFrom = ({ life }: Pack): RecalledPack['where'] => {
  switch (life.kind) {
    case 'reserved':
      return { kind: 'tray', trayId: life.trayId }
    case 'in-transit':
      return { kind: 'transit', to: life.to }
    default:
      return { kind: 'shelf', place: '' }
  }
}

/** Back to the shelf by a named person: its load stands released, and no positive spore test hangs over it. */
function returnHeld({ world }: Bench, pack: Pack, { to, of }: { to: string; of: SteriliserId }): Decision {
  const about = `pack:${pack.id}`
  const { code } = pack
  if (pack.life.kind !== 'held') return refuse({ rule: 'pack/not-held', level: 'stop', about, code })
  if (isOnItsWay(pack, findFact(world, 'instrumentSet', pack.setId))) {
    return refuse({ rule: 'pack/on-its-way', level: 'stop', about, code })
  }
  const load = findFact(world, 'load', pack.loadId)
  if (!load) return refuse({ rule: 'pack/load-unknown', level: 'stop', about, code })
  if (load.steriliserId !== of) return refuse({ rule: 'steriliser/not-found', level: 'stop', about, id: of })
  if (load.life.kind !== 'released') {
    return refuse({ rule: 'pack/not-released', level: 'stop', about, code, load: load.number })
  }
  const standing = sporeStanding(load, world.indicator)
  if (standing === 'doubtful' || standing === 'recalled') {
    const recalled = standing === 'recalled'
    return refuse({ rule: 'pack/spore-doubtful', level: 'stop', about, code, load: load.number, recalled })
  }
  return done(putting('pack', { ...pack, life: { kind: 'shelf', place: to } }))
}

function sendBack({ world, context }: Bench, pack: Pack): Decision {
  const about = `pack:${pack.id}`
  const { code } = pack
  if (pack.life.kind === 'reserved')
    return refuse({ rule: 'tray/pack-elsewhere', level: 'stop', about, code })
  if (pack.life.kind === 'returned') return refuse({ rule: 'pack/used', level: 'stop', about, code })
  if (isOnItsWay(pack, findFact(world, 'instrumentSet', pack.setId))) {
    return refuse({ rule: 'pack/on-its-way', level: 'stop', about, code })
  }
  return done(reprocess(world, pack, context.now))
}

export const PACK_COMMANDS = {
  'set.add': commandRule({
    kind: 'set.add',
    needs: 'sterility:run',
    input: z.object({ kind: z.enum(PACK_KINDS), mark: z.string().trim().min(1).max(40), siteId }),
    reach: () => ({ sets: true as const }),
    decide: (world, input, context) => {
      const mark = input.mark.toLowerCase()
      if (world.instrumentSet.some((set) => set.mark.toLowerCase() === mark)) {
        return refuse({ rule: 'sets/mark-taken', level: 'stop', about: 'sets', mark: input.mark })
      }
      return done(
        putting('instrumentSet', {
          clinicId: context.clinicId,
          id: context.newId<InstrumentSetId>(),
          kind: input.kind,
          mark: input.mark,
          homeSiteId: input.siteId,
          // Nothing is known of how it was kept: it goes through the steriliser first.
          place: { kind: 'dirty', siteId: input.siteId, since: context.now },
          incomplete: false,
        }),
      )
    },
  }),
  'pack.make': commandRule({
    kind: 'pack.make',
    needs: 'sterility:run',
    input: z.object({ steriliserId, loadId, kind: z.enum(PACK_KINDS), setId: setId.nullable(), place }),
    reach: (input) => ({
      sterilisers: [input.steriliserId],
      loads: [input.loadId],
      allPacks: true as const,
      sets: true as const,
    }),
    decide: (world, input, context) =>
      onLoad({ world, context }, input.loadId, (load) => makePack({ world, context }, load, input)),
  }),
  'pack.hold': commandRule({
    kind: 'pack.hold',
    needs: 'tray:use',
    input: z.object({ packId, why }),
    // All, so that another can be named in its place.
    reach: (input) => ({ packs: [input.packId], allPacks: true as const }),
    decide: (world, input, context) =>
      onPack({ world, context }, input.packId, (pack) => holdPack({ world, context }, pack, input.why)),
  }),
  'pack.return': commandRule({
    kind: 'pack.return',
    needs: 'sterility:run',
    /** The steriliser is named, so that its spore tests are looked at. */
    input: z.object({ packId, steriliserId, place }),
    reach: (input) => ({ packs: [input.packId], sterilisers: [input.steriliserId] }),
    decide: (world, input, context) => {
      const bench = { world, context }
      return asReleaser(bench, () =>
        onPack(bench, input.packId, (pack) =>
          returnHeld(bench, pack, { to: input.place, of: input.steriliserId }),
        ),
      )
    },
  }),
  'pack.reprocess': commandRule({
    kind: 'pack.reprocess',
    needs: 'tray:use',
    input: z.object({ packId }),
    reach: (input) => ({ packs: [input.packId] }),
    decide: (world, input, context) =>
      onPack({ world, context }, input.packId, (pack) => sendBack({ world, context }, pack)),
  }),
}

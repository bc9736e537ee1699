import { z } from 'zod'
import { refuse } from '../base/result.ts'
import { joinChanges, nothing, putting } from '../change.ts'
import { commandRule, type Decision } from '../command.ts'
import { findFact } from '../facts.ts'
import type { SiteId } from '../ids.ts'
import { type Bench, done } from './decide.ts'
import { isOnItsWay } from './pack.ts'
import { parsePackCode } from './pack-code.ts'
import type { InstrumentSet, Pack } from './sterility-facts.ts'

const siteId = z.uuid().transform((id) => id as SiteId)
/** What is scanned: the code on a pack, or the mark engraved on a set. */
const code = z.string().trim().min(1).max(60)
const place = z.string().trim().min(1).max(60)

/** A set, the pack it is wrapped in, or both. */
interface Travelling {
  code: string
  pack: Pack | undefined
  set: InstrumentSet | undefined
}

/** A pack counts as long as it has not been opened; an empty wrapping says nothing of its set. */
const isWhole = ({ life }: Pack): boolean => life.kind !== 'opened' && life.kind !== 'returned'

function onScanned(
  { world }: Bench,
  scanned: string,
  decide: (travelling: Travelling) => Decision,
): Decision {
  const read = parsePackCode(scanned) ?? scanned
  const byCode = world.pack.find((pack) => pack.code === read && isWhole(pack))
  const mark = scanned.toLowerCase()
  const set = byCode
    ? findFact(world, 'instrumentSet', byCode.setId)
    : world.instrumentSet.find((each) => each.mark.toLowerCase() === mark)
  const pack =
    byCode ?? world.pack.find((each) => each.setId !== null && each.setId === set?.id && isWhole(each))
  return pack || set
    ? decide({ code: scanned, pack, set })
    : refuse({ rule: 'sets/unknown', level: 'stop', about: 'sets', code: scanned })
}

const onSite = ({ world }: Bench, id: SiteId, decide: () => Decision): Decision =>
  findFact(world, 'site', id)
    ? decide()
    : refuse({ rule: 'site/unknown', level: 'stop', about: `site:${id}` })

/** Where it is by the list; null on its way or in a chair. */
function siteOf({ pack, set }: Travelling): SiteId | null {
  if (isGoing({ pack, set })) return null
  if (pack) return pack.siteId
  return set && 'siteId' in set.place ? set.place.siteId : null
}

const isGoing = ({ pack, set }: Pick<Travelling, 'pack' | 'set'>): boolean =>
  pack ? isOnItsWay(pack, set) : set?.place.kind === 'in-transit'

/** Where it stands, in one word. */
function stateOf({ world }: Bench, { pack, set }: Travelling): string {
  if (isGoing({ pack, set })) return 'in-transit'
  if (!pack) return set?.place.kind ?? 'unknown'
  const isReleased = findFact(world, 'load', pack.loadId)?.life.kind === 'released'
  return pack.life.kind === 'shelf' && !isReleased ? 'not-released' : pack.life.kind
}

/** Only what is released and on the shelf, or lies dirty, is sent: anything else is in somebody's hands. */
function send(bench: Bench, travelling: Travelling, to: SiteId): Decision {
  const { pack, set } = travelling
  const about = 'sets'
  const state = stateOf(bench, travelling)
  const mayGo = state === (pack ? 'shelf' : 'dirty')
  if (!mayGo)
    return refuse({ rule: 'sets/cannot-travel', level: 'stop', about, code: travelling.code, state })
  if (siteOf(travelling) === to) {
    return refuse({ rule: 'sets/here-already', level: 'stop', about, code: travelling.code })
  }
  const going = { kind: 'in-transit', to, since: bench.context.now } as const
  return done(
    joinChanges(
      pack ? putting('pack', { ...pack, life: going }) : nothing,
      set ? putting('instrumentSet', { ...set, place: going }) : nothing,
    ),
  )
}

interface Arrival {
  at: SiteId
  place: string
}

/** What may come: sent, or carried here unsent while sterile on a shelf, held or dirty. */
const MAY_COME = ['in-transit', 'shelf', 'held', 'dirty']

/** It is where it was scanned, whatever was meant: also what came without having been sent. */
function arrive(bench: Bench, travelling: Travelling, arrival: Arrival): Decision {
  const { pack, set, code: scanned } = travelling
  const about = 'sets'
  if (siteOf(travelling) === arrival.at) {
    return refuse({ rule: 'sets/here-already', level: 'stop', about, code: scanned })
  }
  const state = stateOf(bench, travelling)
  if (!MAY_COME.includes(state) || (!pack && state === 'shelf')) {
    return refuse({ rule: 'sets/cannot-travel', level: 'stop', about, code: scanned, state })
  }
  if (pack) return arrivePack({ pack, set }, arrival)
  const dirty = { kind: 'dirty', siteId: arrival.at, since: bench.context.now } as const
  return done(set ? putting('instrumentSet', { ...set, place: dirty }) : nothing)
}

/** What was held on its way stays held, and is said so. */
function arrivePack(
  { pack, set }: { pack: Pack; set: InstrumentSet | undefined },
  { at, place: put }: Arrival,
): Decision {
  const { life } = pack
  const isHeld = life.kind === 'held'
  const arrived: Pack = {
    ...pack,
    siteId: at,
    life: isHeld ? { ...life, place: put } : { kind: 'shelf', place: put },
  }
  return done(
    joinChanges(
      putting('pack', arrived),
      set ? putting('instrumentSet', { ...set, place: { kind: 'shelf', siteId: at } }) : nothing,
    ),
    isHeld
      ? [{ rule: 'pack/held', level: 'stop', about: `pack:${pack.id}`, code: pack.code, why: life.why }]
      : [],
  )
}

export const TRANSIT_COMMANDS = {
  /** Another site's shelf or bench is told to expect it; until it is scanned in there it is stock of neither. */
  'set.send': commandRule({
    kind: 'set.send',
    needs: 'tray:use',
    input: z.object({ code, to: siteId }),
    reach: () => ({ allPacks: true as const, sets: true as const }),
    decide: (world, input, context) => {
      const bench = { world, context }
      return onSite(bench, input.to, () =>
        onScanned(bench, input.code, (travelling) => send(bench, travelling, input.to)),
      )
    },
  }),
  'set.arrive': commandRule({
    kind: 'set.arrive',
    needs: 'tray:use',
    input: z.object({ code, siteId, place }),
    reach: () => ({ allPacks: true as const, sets: true as const }),
    decide: (world, input, context) => {
      const bench = { world, context }
      return onSite(bench, input.siteId, () =>
        onScanned(bench, input.code, (travelling) =>
          arrive(bench, travelling, { at: input.siteId, place: input.place }),
        ),
      )
    },
  }),
}

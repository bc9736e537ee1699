import fc from 'fast-check'
import { expect, it } from 'vitest'
import { applyChange } from '#shared/change.ts'
import type { Decision } from '#shared/command.ts'
import type { Facts, World } from '#shared/facts.ts'
import type { SiteId } from '#shared/ids.ts'
import { STERILITY_COMMANDS as COMMANDS } from '#shared/sterility/commands.ts'
import { hasPassed } from '#shared/sterility/load.ts'
import { isUsable, judgePack } from '#shared/sterility/pack.ts'
import { at, bareClinic, contextOf, PEOPLE, performed, SITE, TODAY } from '../../support/tray-clinic.ts'

const NORTH = '00000000-0000-4000-9000-000000000003' as SiteId
type LoadState = Facts['load']['life']['kind']
type PackState = Facts['pack']['life']['kind']
/** Where a load and a pack may go in one step; staying is always allowed. */
const LOAD_MOVES: Record<LoadState, LoadState[]> = {
  running: ['ended', 'failed'],
  ended: ['released', 'failed'],
  released: ['failed'],
  failed: [],
}
const PACK_MOVES: Record<PackState, PackState[]> = {
  shelf: ['held', 'returned', 'reserved', 'in-transit'],
  reserved: ['shelf', 'opened', 'held'],
  opened: ['returned'],
  held: ['shelf', 'returned'],
  'in-transit': ['shelf', 'held'],
  returned: [],
}

type Rule = {
  input: { parse: (input: unknown) => never }
  decide: (world: World, input: never, context: ReturnType<typeof contextOf>) => Decision
}
interface Real {
  world: World
  minute: number
}
type Act = { name: keyof typeof COMMANDS; input: (world: World, n: number) => object }
const pick = <T>(all: readonly T[], n: number): T | undefined => all[n % Math.max(1, all.length)]
const steriliserOf = (world: World) => world.steriliser[0]?.id

const ACTS: Act[] = [
  {
    name: 'load.start',
    input: (world, n) => ({
      steriliserId: steriliserOf(world),
      number: `L${n}`,
      programme: 'wrapped-instruments',
    }),
  },
  {
    name: 'load.end',
    input: (world, n) => ({
      loadId: pick(world.load, n)?.id,
      deciCelsius: 1320,
      seconds: n % 4 === 0 ? 300 : 900,
    }),
  },
  {
    name: 'load.release',
    input: (world, n) => ({ steriliserId: steriliserOf(world), loadId: pick(world.load, n)?.id }),
  },
  { name: 'load.fail', input: (world, n) => ({ loadId: pick(world.load, n)?.id, why: 'w' }) },
  {
    name: 'indicator.place',
    input: (world, n) => ({
      steriliserId: steriliserOf(world),
      loadId: n % 3 === 0 ? null : pick(world.load, n)?.id,
      kind: n % 3 === 0 ? 'spore' : 'chemical',
    }),
  },
  {
    name: 'indicator.read',
    input: (world, n) => ({
      steriliserId: steriliserOf(world),
      indicatorId: pick(world.indicator, n)?.id,
      result: n % 7 === 0 ? 'fail' : 'pass',
    }),
  },
  {
    name: 'pack.make',
    input: (world, n) => ({
      steriliserId: steriliserOf(world),
      loadId: pick(world.load, n)?.id,
      kind: 'dam-set',
      setId: pick(world.instrumentSet, n)?.id ?? null,
      place: 'bay',
    }),
  },
  { name: 'pack.hold', input: (world, n) => ({ packId: pick(world.pack, n)?.id, why: 'w' }) },
  {
    name: 'pack.return',
    input: (world, n) => ({
      packId: pick(world.pack, n)?.id,
      steriliserId: steriliserOf(world),
      place: 'bay',
    }),
  },
  { name: 'pack.reprocess', input: (world, n) => ({ packId: pick(world.pack, n)?.id }) },
  {
    name: 'set.send',
    input: (world, n) => ({ code: scannedOf(world, n), to: pick(world.site, n)?.id }),
  },
  {
    name: 'set.arrive',
    input: (world, n) => ({ code: scannedOf(world, n), siteId: pick(world.site, n)?.id, place: 'bay' }),
  },
]

/** A pack by its code or a set by its mark, as a person would scan it. */
const scannedOf = (world: World, n: number): string | undefined =>
  pick([...world.pack.map(({ code }) => code), ...world.instrumentSet.map(({ mark }) => mark)], n)

const expectMoves = <T extends { id: string; life: { kind: string } }>(
  before: readonly T[],
  after: readonly T[],
  moves: Record<string, string[]>,
): void => {
  for (const fact of after) {
    const was = before.find(({ id }) => id === fact.id)?.life.kind
    if (was !== undefined && was !== fact.life.kind) expect(moves[was]).toContain(fact.life.kind)
  }
}

/** Nothing is usable that was not proven. */
function expectProven(world: World): number {
  const usable = world.pack.filter((pack) => {
    const load = world.load.find(({ id }) => id === pack.loadId) ?? null
    const sight = {
      load,
      indicators: world.indicator,
      packAge: { kind: 'event-related' },
      today: TODAY,
    } as const
    return pack.life.kind === 'shelf' && judgePack(pack, sight).length === 0
  })
  for (const { loadId, setId } of usable) {
    const load = world.load.find(({ id }) => id === loadId)
    expect(load?.life.kind).toBe('released')
    expect(load?.reading?.seconds).toBe(900)
    const chemical = world.indicator.filter((each) => each.loadId === loadId && each.kind === 'chemical')
    expect(chemical.some(hasPassed)).toBe(true)
    expect(chemical.some(({ life }) => life.kind === 'read' && life.result === 'fail')).toBe(false)
    // One set is in one usable pack, and where it is said to be.
    if (setId !== null) {
      expect(usable.filter((pack) => pack.setId === setId)).toHaveLength(1)
    }
  }
  return usable.length
}

/** What is on its way is stock of neither site, and the set goes with its pack. */
function expectTransit(world: World): number {
  const going = world.pack.filter(({ life }) => life.kind === 'in-transit')
  for (const pack of going) {
    expect(isUsable(world, pack, at('12:00'))).toBe(false)
    const set = world.instrumentSet.find(({ id }) => id === pack.setId)
    if (set) expect(set.place.kind).toBe('in-transit')
  }
  for (const set of world.instrumentSet) {
    const usable = world.pack.filter((pack) => pack.setId === set.id && isUsable(world, pack, at('12:00')))
    // Sterile on a shelf: at the very site where the set is, and nowhere else. Dirty is never stock.
    for (const pack of usable) expect(set.place).toEqual({ kind: 'shelf', siteId: pack.siteId })
  }
  return going.length
}

/** What the steriliser lead would do next with the newest load, so that the whole way is walked often. */
function onward(world: World): { name: Act['name']; input: object } {
  const load = world.load.at(-1)
  const steriliserId = steriliserOf(world)
  if (!load || load.life.kind === 'released' || load.life.kind === 'failed') {
    return { name: 'load.start', input: { steriliserId, number: 'L', programme: 'wrapped-instruments' } }
  }
  const loadId = load.id
  const own = world.indicator.filter((each) => each.loadId === loadId && each.kind === 'chemical')
  const pending = own.find(({ life }) => life.kind === 'pending')
  const dirty = world.instrumentSet.find(({ place }) => place.kind === 'dirty')
  if (load.life.kind === 'running' && dirty) {
    return {
      name: 'pack.make',
      input: { steriliserId, loadId, kind: 'dam-set', setId: dirty.id, place: 'bay' },
    }
  }
  if (own.length === 0) return { name: 'indicator.place', input: { steriliserId, loadId, kind: 'chemical' } }
  if (load.life.kind === 'running') {
    return { name: 'load.end', input: { loadId, deciCelsius: 1320, seconds: 900 } }
  }
  return pending
    ? { name: 'indicator.read', input: { steriliserId, indicatorId: pending.id, result: 'pass' } }
    : { name: 'load.release', input: { steriliserId, loadId } }
}

it('in every history loads and packs move by their tables, and no pack is usable that was not proven', () => {
  let seen = 0
  let travelled = 0
  const carryOut = (real: Real, { name, input }: { name: Act['name']; input: object }): void => {
    if (Object.values(input).includes(undefined)) return
    const rule = COMMANDS[name] as unknown as Rule
    real.minute++
    const now = (at('08:00') + real.minute * 60_000) as ReturnType<typeof at>
    const decision = rule.decide(real.world, rule.input.parse(input), contextOf(PEOPLE.lead, now))
    if (!decision.ok) return
    const before = real.world
    real.world = applyChange(before, decision.value.change)
    expectMoves(before.load, real.world.load, LOAD_MOVES)
    expectMoves(before.pack, real.world.pack, PACK_MOVES)
    seen += expectProven(real.world)
    travelled += expectTransit(real.world)
  }
  const anything = fc.tuple(fc.nat(ACTS.length - 1), fc.nat(41)).map(
    ([index, n]): fc.Command<object, Real> => ({
      check: () => true,
      run(_, real) {
        const act = ACTS[index]
        if (act) carryOut(real, { name: act.name, input: act.input(real.world, n) })
      },
      toString: () => `${ACTS[index]?.name}(${n})`,
    }),
  )
  const next = fc.constant<fc.Command<object, Real>>({
    check: () => true,
    run: (_, real) => carryOut(real, onward(real.world)),
    toString: () => 'onward',
  })
  fc.assert(
    fc.property(fc.commands([anything, next, next], { size: 'max', maxCommands: 80 }), (all) => {
      const bare = bareClinic()
      const north = bare.site.map((site) => ({ ...site, id: NORTH, name: 'North' }))
      let world = performed(COMMANDS['steriliser.add'], {
        world: { ...bare, site: [...bare.site, ...north] },
        input: { siteId: SITE, name: 'S1', type: 'gravity' },
        by: PEOPLE.lead,
      })
      for (const mark of ['A', 'B']) {
        world = performed(COMMANDS['set.add'], {
          world,
          input: { kind: 'dam-set', mark, siteId: SITE },
          by: PEOPLE.lead,
        })
      }
      fc.modelRun(() => ({ model: {}, real: { world, minute: 0 } }), all)
    }),
    { numRuns: 300 },
  )
  expect(seen).toBeGreaterThan(100)
  expect(travelled).toBeGreaterThan(100)
})

import { describe, expect, it } from 'vitest'
import { must } from '#shared/base/assert.ts'
import type { World } from '#shared/facts.ts'
import { STERILITY_COMMANDS as COMMANDS } from '#shared/sterility/commands.ts'
import {
  at,
  bareClinic,
  decideOn,
  findingOf,
  nextId,
  PEOPLE,
  performed,
  reasonsOf,
  SITE,
  sterilised,
  TODAY,
} from '../../support/tray-clinic.ts'

const { ana, lead } = PEOPLE
const notNamed = { ...lead, releasesLoads: false }
const by = lead

/** One steriliser, one set, one running load with that set wrapped in it. */
function running(type = 'gravity') {
  let world = performed(COMMANDS['steriliser.add'], {
    world: bareClinic(),
    input: { siteId: SITE, name: 'S1', type },
    by,
  })
  const steriliserId = must(world.steriliser[0], 'added').id
  world = performed(COMMANDS['set.add'], { world, input: { kind: 'dam-set', mark: 'A', siteId: SITE }, by })
  const setId = must(world.instrumentSet[0], 'added').id
  const programme = 'wrapped-instruments'
  world = performed(COMMANDS['load.start'], {
    world,
    input: { steriliserId, number: 'S1-07', programme },
    by,
    now: at('08:00'),
  })
  const loadId = must(world.load[0], 'started').id
  const input = { steriliserId, loadId, kind: 'dam-set', setId, place: 'bay 3' }
  world = performed(COMMANDS['pack.make'], { world, input, by })
  return { world, steriliserId, setId, loadId, packId: must(world.pack[0], 'made').id }
}

const ended = (made: ReturnType<typeof running>, seconds = 900) => ({
  ...made,
  world: performed(COMMANDS['load.end'], {
    world: made.world,
    input: { loadId: made.loadId, deciCelsius: 1320, seconds },
    by,
  }),
})

function indicated({ world, steriliserId, loadId }: ReturnType<typeof running>, result: 'pass' | 'fail') {
  const placed = performed(COMMANDS['indicator.place'], {
    world,
    input: { steriliserId, loadId, kind: 'chemical' },
    by,
  })
  const indicatorId = must(placed.indicator.at(-1), 'placed').id
  return performed(COMMANDS['indicator.read'], {
    world: placed,
    input: { steriliserId, indicatorId, result },
    by,
  })
}
const release = (world: World, { steriliserId, loadId }: ReturnType<typeof running>, who = lead) =>
  decideOn(COMMANDS['load.release'], { world, input: { steriliserId, loadId }, by: who })

describe('from wrapping to the shelf', () => {
  it('a pack is labelled before it is sterilised and not sterile until its load is released', () => {
    const made = running()
    expect(made.world.pack[0]).toMatchObject({ sterilised: null, loadId: made.loadId, setId: made.setId })
    expect(made.world.instrumentSet[0]?.place.kind).toBe('processing')
    const done = ended(made)
    const world = performed(COMMANDS['load.release'], {
      world: indicated(done, 'pass'),
      input: { steriliserId: made.steriliserId, loadId: made.loadId },
      by,
    })
    expect(world.load[0]?.life).toMatchObject({ kind: 'released', by: lead.id })
    expect(world.pack[0]?.sterilised).toBe(TODAY)
    expect(world.instrumentSet[0]?.place).toEqual({ kind: 'shelf', siteId: SITE })
  })
  it('[load/releaser-not-named] only a named person releases', () => {
    const done = ended(running())
    expect(reasonsOf(release(indicated(done, 'pass'), done, notNamed))).toEqual(['load/releaser-not-named'])
  })
  it('a load too short, or without its indicator, is not released', () => {
    const short = ended(running(), 240)
    expect(reasonsOf(release(short.world, short))).toEqual(['load/below-minimum', 'load/indicator-missing'])
  })
  it('an indicator that did not change fails the load at once and holds its packs', () => {
    const done = ended(running())
    const world = indicated(done, 'fail')
    expect(world.load[0]?.life.kind).toBe('failed')
    expect(world.pack[0]?.life).toMatchObject({ kind: 'held', why: 'load S1-07: indicator not changed' })
    expect(reasonsOf(release(world, done))).toEqual(['load/not-now'])
  })
  it('[load/not-now] a load ends once, and nothing is wrapped into it after', () => {
    const done = ended(running())
    const again = { world: done.world, input: { loadId: done.loadId, deciCelsius: 1, seconds: 1 }, by }
    expect(reasonsOf(decideOn(COMMANDS['load.end'], again))).toEqual(['load/not-now'])
  })
  it('[pack/set-not-clean] a set that is sterile on the shelf, or unknown, is not wrapped again', () => {
    const made = running()
    const { steriliserId, loadId, setId } = made
    const shelved = {
      ...made.world,
      instrumentSet: made.world.instrumentSet.map((set) => ({
        ...set,
        place: { kind: 'shelf' as const, siteId: SITE },
      })),
    }
    const input = { steriliserId, loadId, kind: 'dam-set', setId, place: 'bay' }
    expect(findingOf(decideOn(COMMANDS['pack.make'], { world: shelved, input, by }))).toMatchObject({
      rule: 'pack/set-not-clean',
      mark: 'A',
    })
    const unknown = { ...input, setId: nextId() }
    expect(reasonsOf(decideOn(COMMANDS['pack.make'], { world: made.world, input: unknown, by }))).toEqual([
      'pack/set-not-clean',
    ])
  })
  it('[pack/code-taken] no two packs carry one code', () => {
    const made = running()
    const rule = COMMANDS['pack.make']
    const input = rule.input.parse({ ...made, kind: 'dam-set', setId: null, place: 'bay' })
    const context = { ...contextLike(), newId: <Id>() => 'aaaaaaaa-aaaa-4aaa-8aaa-aaaaaaaaaaaa' as Id }
    const first = rule.decide(made.world, input, context)
    const code = first.ok ? must(first.value.change.put.pack?.[0], 'made').code : ''
    const world = { ...made.world, pack: made.world.pack.map((pack) => ({ ...pack, code })) }
    expect(reasonsOf(rule.decide(world, input, context))).toEqual(['pack/code-taken'])
  })
})

const contextLike = () => ({
  clinicId: bareClinic().clinic[0]?.id as never,
  now: at('08:40'),
  today: TODAY,
  by: lead,
  station: 'test',
  journal: null,
})

describe('held packs', () => {
  const shelf = () => sterilised(bareClinic(), ['dam-set'])
  const packId = (world: World) => must(world.pack[0], 'a pack').id
  const hold = (world: World) =>
    performed(COMMANDS['pack.hold'], { world, input: { packId: packId(world), why: 'dropped' }, by: ana })
  it('a held pack comes back to the shelf by a named person, out of a released load', () => {
    const world = hold(shelf())
    const input = { packId: packId(world), steriliserId: world.steriliser[0]?.id, place: 'bay 9' }
    expect(reasonsOf(decideOn(COMMANDS['pack.return'], { world, input, by: notNamed }))).toEqual([
      'load/releaser-not-named',
    ])
    const back = performed(COMMANDS['pack.return'], { world, input, by: lead })
    expect(back.pack[0]?.life).toEqual({ kind: 'shelf', place: 'bay 9' })
  })
  it('[pack/not-held] what is not held does not come back', () => {
    const world = shelf()
    const input = { packId: packId(world), steriliserId: world.steriliser[0]?.id, place: 'bay' }
    expect(reasonsOf(decideOn(COMMANDS['pack.return'], { world, input, by: lead }))).toEqual([
      'pack/not-held',
    ])
  })
  it('[pack/not-found] a pack that is not there', () => {
    const input = { packId: nextId(), why: 'w' }
    expect(reasonsOf(decideOn(COMMANDS['pack.hold'], { world: shelf(), input, by: ana }))).toEqual([
      'pack/not-found',
    ])
  })
  it('reprocessing ends a pack and makes its set dirty', () => {
    const made = running()
    const world = performed(COMMANDS['pack.reprocess'], {
      world: made.world,
      input: { packId: made.packId },
      by: ana,
    })
    expect(world.pack[0]?.life.kind).toBe('returned')
    expect(world.instrumentSet[0]?.place.kind).toBe('dirty')
  })
})

describe('sterilisers', () => {
  it('[steriliser/not-found] [load/not-found] [indicator/not-found] what is not there is said so', () => {
    const world = bareClinic()
    const steriliserId = nextId()
    const start = { steriliserId, number: '1', programme: 'wrapped-instruments' }
    expect(reasonsOf(decideOn(COMMANDS['load.start'], { world, input: start, by }))).toEqual([
      'steriliser/not-found',
    ])
    const fail = { loadId: nextId(), why: 'w' }
    expect(reasonsOf(decideOn(COMMANDS['load.fail'], { world, input: fail, by }))).toEqual(['load/not-found'])
    const read = { steriliserId, indicatorId: nextId(), result: 'pass' }
    expect(reasonsOf(decideOn(COMMANDS['indicator.read'], { world, input: read, by }))).toEqual([
      'indicator/not-found',
    ])
  })
  it('[indicator/already-read] an indicator is read once', () => {
    const world = indicated(ended(running()), 'pass')
    const { id: indicatorId, steriliserId } = must(world.indicator[0], 'read')
    const input = { steriliserId, indicatorId, result: 'fail' }
    expect(reasonsOf(decideOn(COMMANDS['indicator.read'], { world, input, by }))).toEqual([
      'indicator/already-read',
    ])
  })
  it('[steriliser/not-out] only what is out comes back', () => {
    const { world, steriliserId } = running()
    expect(
      reasonsOf(decideOn(COMMANDS['steriliser.return'], { world, input: { steriliserId }, by })),
    ).toEqual(['steriliser/not-out'])
  })
  it('[steriliser/out-of-service] out of service it runs test cycles only', () => {
    const { world, steriliserId } = running()
    const out = performed(COMMANDS['steriliser.take-out'], {
      world,
      input: { steriliserId, why: 'door seal' },
      by,
    })
    const start = { steriliserId, number: '9', programme: 'wrapped-instruments' }
    expect(reasonsOf(decideOn(COMMANDS['load.start'], { world: out, input: start, by }))).toEqual([
      'steriliser/out-of-service',
    ])
    const test = { ...start, programme: 'test cycle, empty chamber' }
    const tested = performed(COMMANDS['load.start'], { world: out, input: test, by })
    const loadId = must(tested.load.at(-1), 'started').id
    const pack = { steriliserId, loadId, kind: 'dam-set', setId: null, place: 'bay' }
    expect(reasonsOf(decideOn(COMMANDS['pack.make'], { world: tested, input: pack, by }))).toEqual([
      'load/not-now',
    ])
  })
  it('[steriliser/cycles-short] it comes back after repair and three passing cycles in a row, not after two', () => {
    const { world, steriliserId } = running()
    let standing = performed(COMMANDS['steriliser.take-out'], {
      world,
      input: { steriliserId, why: 'w' },
      by,
    })
    standing = performed(COMMANDS['steriliser.repaired'], { world: standing, input: { steriliserId }, by })
    for (let passing = 0; passing < 3; passing++) {
      const decision = decideOn(COMMANDS['steriliser.return'], {
        world: standing,
        input: { steriliserId },
        by,
      })
      expect(findingOf(decision)).toMatchObject({ rule: 'steriliser/cycles-short', passing })
      const place = { steriliserId, loadId: null, kind: 'spore' }
      standing = performed(COMMANDS['indicator.place'], { world: standing, input: place, by })
      const indicatorId = must(standing.indicator.at(-1), 'placed').id
      const read = { steriliserId, indicatorId, result: 'pass' }
      standing = performed(COMMANDS['indicator.read'], { world: standing, input: read, by })
    }
    const back = performed(COMMANDS['steriliser.return'], { world: standing, input: { steriliserId }, by })
    expect(back.steriliser[0]?.life).toEqual({ kind: 'in-service' })
  })
  it('[spore/failed] [spore/invalid] what a spore test says is told', () => {
    const { world, steriliserId } = running()
    const place = { steriliserId, loadId: null, kind: 'spore' }
    const placed = performed(COMMANDS['indicator.place'], { world, input: place, by })
    const indicatorId = must(placed.indicator.at(-1), 'placed').id
    const told = (result: string) => {
      const decision = decideOn(COMMANDS['indicator.read'], {
        world: placed,
        input: { steriliserId, indicatorId, result },
        by,
      })
      return decision.ok ? decision.value.findings : []
    }
    expect(told('pass')).toEqual([])
    expect(told('invalid')).toMatchObject([{ rule: 'spore/invalid' }])
    expect(told('fail')).toMatchObject([{ rule: 'spore/failed', repeat: true }])
  })
})

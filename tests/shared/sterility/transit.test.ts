import { describe, expect, it } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { applyChange } from '#shared/change.ts'
import type { Facts, World } from '#shared/facts.ts'
import type { SiteId } from '#shared/ids.ts'
import { STERILITY_COMMANDS as COMMANDS } from '#shared/sterility/commands.ts'
import { forecastDay } from '#shared/sterility/day-forecast.ts'
import { judgeContents } from '#shared/sterility/pack.ts'
import { planRecall, recallChange, replacementFor } from '#shared/sterility/recall.ts'
import { TRAY_COMMANDS } from '#shared/trays/commands.ts'
import {
  at,
  bareClinic,
  book,
  CLINIC,
  decideOn,
  nextId,
  PEOPLE,
  performed,
  reasonsOf,
  SITE,
  sterilised,
  TODAY,
  trayOf,
  withTray,
} from '../../support/tray-clinic.ts'

const { ana, lead } = PEOPLE
const NORTH = '00000000-0000-4000-9000-000000000003' as SiteId

const setAt = (mark: string, place: Facts['instrumentSet']['place']): Facts['instrumentSet'] => ({
  clinicId: CLINIC,
  id: nextId(),
  kind: 'dam-set',
  mark,
  homeSiteId: SITE,
  place,
  incomplete: false,
})

/** Two sites; at the first a sterile pack P1 of set A, a dirty set B, and an appointment at 09:30. */
function twoSites(): World {
  const bare = bareClinic()
  const north = bare.site.map((site) => ({ ...site, id: NORTH, name: 'North' }))
  const world = sterilised({ ...bare, site: [...bare.site, ...north] }, ['dam-set'])
  const a = setAt('Set A', { kind: 'shelf', siteId: SITE })
  const b = setAt('Set B', { kind: 'dirty', siteId: SITE, since: at('07:00') })
  return {
    ...world,
    instrumentSet: [a, b],
    pack: world.pack.map((pack) => ({ ...pack, setId: a.id })),
  }
}

const send = (world: World, code: string, to: SiteId = NORTH) =>
  performed(COMMANDS['set.send'], { world, input: { code, to }, by: ana })
const arrive = (world: World, code: string, siteId: SiteId = NORTH) =>
  performed(COMMANDS['set.arrive'], { world, input: { code, siteId, place: 'bay N' }, by: ana })
const placeOf = (world: World, mark: string) => world.instrumentSet.find((set) => set.mark === mark)?.place
const pack = (world: World) => must(world.pack[0], 'P1')

/** How many appointments the dam sets of a site cover, with one appointment that wants one. */
function coveredAt(world: World, siteId: SiteId): number {
  const booked = book(world, { time: '09:30' })
  const moved = {
    ...booked.world,
    appointment: booked.world.appointment.map((each) => ({ ...each, siteId })),
  }
  const laid = withTray(moved, booked.appointmentId)
  return forecastDay(laid, { siteId, day: TODAY, now: at('08:00') })['dam-set'].covered
}

describe('sets between sites', () => {
  it('a pack that is sent counts for neither site until it is scanned in, then for the other', () => {
    const world = twoSites()
    expect([coveredAt(world, SITE), coveredAt(world, NORTH)]).toEqual([1, 0])
    const going = send(world, 'P1')
    expect(pack(going).life).toEqual({ kind: 'in-transit', to: NORTH, since: at('08:40') })
    expect(placeOf(going, 'Set A')?.kind).toBe('in-transit')
    expect([coveredAt({ ...going, instrumentSet: [] }, SITE), coveredAt(going, NORTH)]).toEqual([0, 0])
    const there = arrive(going, 'P1')
    expect(pack(there)).toMatchObject({ siteId: NORTH, life: { kind: 'shelf', place: 'bay N' } })
    expect(placeOf(there, 'Set A')).toEqual({ kind: 'shelf', siteId: NORTH })
    expect([coveredAt({ ...there, instrumentSet: [] }, SITE), coveredAt(there, NORTH)]).toEqual([0, 1])
  })
  it('a set is sent and scanned in by its mark too, in any case of letters', () => {
    const there = arrive(send(twoSites(), 'set a'), 'SET A')
    expect(pack(there)).toMatchObject({ siteId: NORTH, life: { kind: 'shelf' } })
  })
  it('a dirty set travels by its mark and is dirty where it arrives, never stock', () => {
    const going = send(twoSites(), 'Set B')
    expect(placeOf(going, 'Set B')).toMatchObject({ kind: 'in-transit', to: NORTH })
    const there = arrive(going, 'Set B')
    expect(placeOf(there, 'Set B')).toMatchObject({ kind: 'dirty', siteId: NORTH })
    expect(coveredAt(there, NORTH)).toBe(0)
  })
  it('what was brought without having been sent is where it is scanned in', () => {
    expect(pack(arrive(twoSites(), 'P1')).siteId).toBe(NORTH)
  })
  it('[pack/set-not-clean] a dirty set of another site is not wrapped here before it is scanned in', () => {
    const world = arrive(send(twoSites(), 'Set B'), 'Set B')
    const load = { ...must(world.load[0], 'L1'), life: { kind: 'running' as const } }
    const set = must(
      world.instrumentSet.find(({ mark }) => mark === 'Set B'),
      'Set B',
    )
    const input = {
      steriliserId: load.steriliserId,
      loadId: load.id,
      kind: 'dam-set',
      setId: set.id,
      place: 'bay',
    }
    const wrap = (standing: World) =>
      decideOn(COMMANDS['pack.make'], { world: { ...standing, load: [load] }, input, by: lead })
    expect(reasonsOf(wrap(world))).toEqual(['pack/set-not-clean'])
    expect(reasonsOf(wrap(arrive(world, 'Set B', SITE)))).toEqual([])
  })
  it('[sets/mark-taken] no two sets carry one mark, in any case of letters', () => {
    const input = { kind: 'dam-set', mark: 'SET A', siteId: NORTH }
    expect(reasonsOf(decideOn(COMMANDS['set.add'], { world: twoSites(), input, by: lead }))).toEqual([
      'sets/mark-taken',
    ])
  })
  it('[sets/unknown] a code that nothing carries', () => {
    const input = { code: 'nothing', to: NORTH }
    expect(reasonsOf(decideOn(COMMANDS['set.send'], { world: twoSites(), input, by: ana }))).toEqual([
      'sets/unknown',
    ])
  })
  it('[sets/here-already] it is not sent to where it is, nor scanned in there', () => {
    const world = twoSites()
    const sent = decideOn(COMMANDS['set.send'], { world, input: { code: 'P1', to: SITE }, by: ana })
    const input = { code: 'Set B', siteId: SITE, place: 'bay' }
    const came = decideOn(COMMANDS['set.arrive'], { world, input, by: ana })
    expect([reasonsOf(sent), reasonsOf(came)]).toEqual([['sets/here-already'], ['sets/here-already']])
  })
  it('[sets/cannot-travel] what is held, not released, in a chair or on its way is not sent', () => {
    const world = twoSites()
    const held = performed(COMMANDS['pack.hold'], {
      world,
      input: { packId: pack(world).id, why: 'dropped' },
      by: ana,
    })
    const running = {
      ...world,
      load: world.load.map((load) => ({ ...load, life: { kind: 'running' as const } })),
    }
    const inUse = {
      ...world,
      instrumentSet: world.instrumentSet.map((set) => ({
        ...set,
        place: { kind: 'in-use' as const, siteId: SITE },
      })),
    }
    for (const [standing, code] of [
      [held, 'P1'],
      [running, 'P1'],
      [inUse, 'Set B'],
      [send(world, 'P1'), 'P1'],
    ] as const) {
      const refused = decideOn(COMMANDS['set.send'], { world: standing, input: { code, to: NORTH }, by: ana })
      expect(reasonsOf(refused)).toEqual(['sets/cannot-travel'])
    }
    const input = { code: 'Set B', siteId: NORTH, place: 'bay' }
    expect(reasonsOf(decideOn(COMMANDS['set.arrive'], { world: inUse, input, by: ana }))).toEqual([
      'sets/cannot-travel',
    ])
  })
  it('[pack/on-its-way] on its way it goes on no tray, is not reprocessed and not given back', () => {
    const booked = book(twoSites(), { time: '09:30' })
    const laid = withTray(booked.world, booked.appointmentId)
    const trayId = trayOf(laid, booked.appointmentId).id
    const claimed = performed(TRAY_COMMANDS['tray.claim'], { world: laid, input: { trayId }, by: ana })
    const world = send(claimed, 'P1')
    const scan = { world, input: { trayId, code: 'P1' }, by: ana }
    expect(reasonsOf(decideOn(TRAY_COMMANDS['tray.scan'], scan))).toEqual(['pack/on-its-way'])
    const packId = pack(world).id
    expect(reasonsOf(decideOn(COMMANDS['pack.reprocess'], { world, input: { packId }, by: ana }))).toEqual([
      'pack/on-its-way',
    ])
    const held = performed(COMMANDS['pack.hold'], { world, input: { packId, why: 'w' }, by: ana })
    const input = { packId, steriliserId: held.steriliser[0]?.id, place: 'bay' }
    expect(reasonsOf(decideOn(COMMANDS['pack.return'], { world: held, input, by: lead }))).toEqual([
      'pack/on-its-way',
    ])
  })
  it('[pack/other-site] a pack of another site goes on no tray here before it is scanned in', () => {
    const booked = book(arrive(send(twoSites(), 'P1'), 'P1'), { time: '09:30' })
    const laid = withTray(booked.world, booked.appointmentId)
    const trayId = trayOf(laid, booked.appointmentId).id
    const world = performed(TRAY_COMMANDS['tray.claim'], { world: laid, input: { trayId }, by: ana })
    const scan = (standing: World) =>
      decideOn(TRAY_COMMANDS['tray.scan'], { world: standing, input: { trayId, code: 'P1' }, by: ana })
    expect(reasonsOf(scan(world))).toEqual(['pack/other-site'])
    expect(reasonsOf(scan(arrive(world, 'P1', SITE)))).toEqual([])
  })
  it('a recall reaches a pack on its way: it is held, and stays held where it arrives', () => {
    const going = send(twoSites(), 'P1')
    const recall = planRecall(going, { kind: 'load', loadId: must(going.load[0], 'L1').id }, at('09:00'))
    expect(recall.packs).toMatchObject([{ code: 'P1', where: { kind: 'transit', to: NORTH } }])
    const held = applyChange(going, recallChange(going, recall, { why: 'w', now: at('09:00') }))
    const input = { code: 'P1', siteId: NORTH, place: 'bay N' }
    const decision = decideOn(COMMANDS['set.arrive'], { world: held, input, by: ana })
    expect(decision.ok && decision.value.findings.map(({ rule }) => rule)).toEqual(['pack/held'])
    expect(pack(arrive(held, 'P1'))).toMatchObject({ siteId: NORTH, life: { kind: 'held', place: 'bay N' } })
  })
})

describe('what goes with implants', () => {
  const surgical = (
    indicators: Partial<Facts['indicator']>[] = [],
    life: Facts['load']['life'] | null = null,
  ) => {
    const world = sterilised(bareClinic(), ['surgical-set', 'dam-set'], life === null ? {} : { life })
    const [load] = world.load
    const indicator = indicators.map((more): Facts['indicator'] => ({
      clinicId: CLINIC,
      id: nextId(),
      steriliserId: must(world.steriliser[0], 'S1').id,
      loadId: must(load, 'L1').id,
      kind: 'spore',
      placed: at('07:00'),
      life: { kind: 'pending' },
      ...more,
    }))
    return { ...world, indicator }
  }
  const read = (result: 'pass' | 'fail' | 'invalid') =>
    ({ kind: 'read', at: at('08:00'), by: lead.id, result }) as const
  const usable = (world: World) =>
    replacementFor(world, must(world.pack[0], 'P1').id, {
      suspect: new Set(),
      taken: new Set(),
      now: at('09:00'),
    })
  const another = (world: World): World => {
    const [one] = world.pack
    const twin = one && { ...one, id: nextId<Facts['pack']['id']>(), code: 'TWIN' }
    return { ...world, pack: twin ? [...world.pack, twin] : world.pack }
  }
  it('[pack/spore-missing] no spore test in its load, or one that says nothing, is no proof (MMWR 2003;52(RR-17): READ)', () => {
    expect(usable(another(surgical()))).toEqual([])
    expect(usable(another(surgical([{ life: read('invalid') }])))).toEqual([])
    expect(usable(another(surgical([{ life: { kind: 'pending' } }])))).toEqual([])
    expect(usable(another(surgical([{ loadId: null, life: read('pass') }])))).toEqual([])
    expect(usable(another(surgical([{ life: read('pass') }])))).toHaveLength(1)
  })
  it('[load/spore-missing] a running load that holds such a set wants one, and no other load does', () => {
    const wants = (world: World) =>
      judgeContents(must(world.load[0], 'L1'), { packs: world.pack, indicators: world.indicator }).map(
        ({ rule }) => rule,
      )
    const running = { kind: 'running' } as const
    expect(wants(surgical([], running))).toEqual(['load/spore-missing'])
    expect(wants(surgical([{}], running))).toEqual([])
    expect(wants(surgical())).toEqual([])
    const damOnly = surgical([], running)
    expect(wants({ ...damOnly, pack: damOnly.pack.filter(({ kind }) => kind === 'dam-set') })).toEqual([])
  })
})

describe('what is named in place of a recalled pack', () => {
  /** P1 is recalled; P2 of yesterday, P3 of the day before stand on the shelf. */
  function shelf(): World {
    const one = sterilised(bareClinic(), ['dam-set'])
    const two = sterilised(one, ['dam-set', 'dam-set'])
    const days = [TODAY, '2026-11-23', '2026-11-22']
    return {
      ...two,
      pack: two.pack.map((each, index) => ({ ...each, sterilised: days[index] as typeof TODAY })),
    }
  }
  const named = (world: World, suspect: string[] = []) =>
    replacementFor(world, must(world.pack[0], 'P1').id, {
      suspect: new Set(suspect as never),
      taken: new Set(),
      now: at('09:00'),
    }).map((id) => world.pack.find((each) => each.id === id)?.code)
  const but = (world: World, code: string, more: Partial<Facts['pack']>): World => ({
    ...world,
    pack: world.pack.map((each) => (each.code === code ? { ...each, ...more } : each)),
  })
  it('the one sterilised first, and never the pack itself', () => {
    expect(named(shelf())).toEqual(['P3'])
  })
  it('not one that is too old by the clinic’s days, nor any while the days are not set', () => {
    const world = shelf()
    const policy = (packAge: Facts['policySet']['sterility']['packAge']): World => ({
      ...world,
      policySet: world.policySet.map((set) => ({ ...set, sterility: { ...set.sterility, packAge } })),
    })
    expect(named(policy({ kind: 'dated', days: 1 }))).toEqual(['P2'])
    expect(named(policy({ kind: 'unset' }))).toEqual([])
  })
  it('not one that was seen torn, is undated, of a failed or unreleased load, or at another site', () => {
    const torn = { outside: 'torn', outer: 'changed', inner: 'changed', by: ana.id, at: at('08:00') } as const
    expect(named(but(shelf(), 'P3', { seen: torn }))).toEqual(['P2'])
    expect(named(but(shelf(), 'P3', { sterilised: null }))).toEqual(['P2'])
    expect(named(but(shelf(), 'P3', { siteId: NORTH }))).toEqual(['P2'])
    const world = shelf()
    const running = world.load.map((load) => ({ ...load, life: { kind: 'running' as const } }))
    expect(named({ ...world, load: running })).toEqual([])
  })
  it('none of a suspect load', () => {
    const world = shelf()
    expect(named(world, [must(world.load[1], 'L2').id])).toEqual([])
  })
})

import { describe, expect, it } from 'vitest'
import { must } from '#shared/base/assert.ts'
import type { Day, Instant } from '#shared/base/moment.ts'
import { applyChange } from '#shared/change.ts'
import type { Facts, World } from '#shared/facts.ts'
import { STERILITY_COMMANDS } from '#shared/sterility/commands.ts'
import { judgeOpening, judgePack } from '#shared/sterility/pack.ts'
import { planRecall, recallChange } from '#shared/sterility/recall.ts'
import { TRAY_COMMANDS } from '#shared/trays/commands.ts'
import { judgeTray } from '#shared/trays/judge.ts'
import { say } from '#shared/words/en.ts'
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
  sterilised,
  TODAY,
  trayOf,
  withTray,
} from '../support/tray-clinic.ts'

const { ana, lead } = PEOPLE

const spore = (world: World, placed: Instant, life: Facts['indicator']['life']): Facts['indicator'] => ({
  clinicId: CLINIC,
  id: nextId(),
  steriliserId: must(world.steriliser[0], 'S1').id,
  loadId: null,
  kind: 'spore',
  placed,
  life,
})
const passed = { kind: 'read', at: at('07:05'), by: lead.id, result: 'pass' } as const

/**
 * S1: load L1 at 06:00, a negative test at 06:30, load L2 at 07:00 with a pack on the shelf, one on a tray and one
 * used for a patient; the weekly test of 08:00 is pending. L3 is of another steriliser.
 */
function week(policy: 'hold' | 'warn' = 'hold') {
  let world = sterilised(bareClinic(), ['dam-set'], { started: at('06:00') })
  world = sterilised(world, ['dam-set', 'dam-set', 'dam-set', 'surgical-set'], { started: at('07:00') })
  const [set] = world.policySet
  const booked = book(world, { time: '09:30' })
  const used = book(booked.world, { time: '08:00' })
  world = withTray(used.world, booked.appointmentId)
  const trayId = trayOf(world, booked.appointmentId).id
  world = performed(TRAY_COMMANDS['tray.claim'], { world, input: { trayId }, by: ana })
  world = performed(TRAY_COMMANDS['tray.scan'], { world, input: { trayId, code: 'P3' }, by: ana })
  const pending = spore(world, at('08:00'), { kind: 'pending' })
  world = {
    ...world,
    policySet: set ? [{ ...set, sterility: { ...set.sterility, sporeFailure: policy } }] : [],
    indicator: [spore(world, at('06:30'), passed), pending],
    pack: world.pack.map((pack) =>
      pack.code === 'P4'
        ? { ...pack, life: { kind: 'opened', appointmentId: used.appointmentId, at: at('08:05') } }
        : pack,
    ),
  }
  return {
    world,
    indicatorId: pending.id,
    steriliserId: pending.steriliserId,
    trayId,
    appointmentId: booked.appointmentId,
    usedId: used.appointmentId,
  }
}
const lifeOf = (world: World, code: string) => world.pack.find((pack) => pack.code === code)?.life
const readSpore = (week: { world: World; steriliserId: string; indicatorId: string }, result: string) =>
  performed(STERILITY_COMMANDS['indicator.read'], {
    world: week.world,
    input: { steriliserId: week.steriliserId, indicatorId: week.indicatorId, result },
    by: lead,
  })

describe('case 59 one failed spore test', () => {
  it('out of service now; packs since the last negative test are held under the cautious policy', () => {
    const after = readSpore(week(), 'fail')
    expect(after.steriliser[0]?.life).toMatchObject({ kind: 'out-of-service', until: 'repeat-passes' })
    expect(['P1', 'P2', 'P3', 'P5'].map((code) => lifeOf(after, code)?.kind)).toEqual([
      'shelf',
      'held',
      'held',
      'held',
    ])
  })
  it('[pack/spore-doubtful] a held pack comes back after a passing repeat, not before', () => {
    const monday = week()
    const once = readSpore(monday, 'fail')
    const held = must(
      once.pack.find((pack) => pack.code === 'P2'),
      'P2',
    )
    const input = { packId: held.id, steriliserId: monday.steriliserId, place: 'bay 2' }
    const back = (world: World) => decideOn(STERILITY_COMMANDS['pack.return'], { world, input, by: lead })
    expect(reasonsOf(back(once))).toEqual(['pack/spore-doubtful'])
    const repeat = spore(once, at('09:00'), { kind: 'pending' })
    const again = {
      ...monday,
      world: { ...once, indicator: [...once.indicator, repeat] },
      indicatorId: repeat.id,
    }
    expect(back(readSpore(again, 'pass')).ok).toBe(true)
    expect(reasonsOf(back(readSpore(again, 'fail')))).toEqual(['pack/spore-doubtful'])
  })
  it('under the other policy only what goes with implants is held, and the retest decides', () => {
    const after = readSpore(week('warn'), 'fail')
    expect(['P2', 'P3', 'P5'].map((code) => lifeOf(after, code)?.kind)).toEqual(['shelf', 'reserved', 'held'])
  })
  it('an invalid test is neither a pass nor a failure', () => {
    const after = readSpore(week(), 'invalid')
    expect(after.steriliser[0]?.life.kind).toBe('in-service')
    expect(lifeOf(after, 'P2')?.kind).toBe('shelf')
  })
})

describe('case 60 second failure: recall', () => {
  const failedTwice = () => {
    const monday = week('warn')
    const once = readSpore(monday, 'fail')
    const repeat = spore(once, at('09:00'), { kind: 'pending' })
    const world = { ...once, indicator: [...once.indicator, repeat] }
    return { ...monday, world: readSpore({ ...monday, world, indicatorId: repeat.id }, 'fail'), repeat }
  }
  it('every pack since the last negative: unused pulled, used as a list of patients, trays not ready', () => {
    const { world, repeat, appointmentId, usedId } = failedTwice()
    expect(['P1', 'P2', 'P3', 'P4', 'P5'].map((code) => lifeOf(world, code)?.kind)).toEqual([
      'shelf',
      'held',
      'held',
      'opened',
      'held',
    ])
    const recall = planRecall(world, { kind: 'indicator', indicatorId: repeat.id }, at('09:00'))
    expect(recall.patients).toMatchObject([{ appointmentId: usedId, codes: ['P4'] }])
    const tray = trayOf(world, appointmentId)
    expect(tray.life).toMatchObject({ kind: 'held', why: 'two positive spore tests', before: 'claimed' })
    const sight = {
      appointment: { start: at('09:30') },
      stage: 'expected',
      policy: null,
      now: at('09:00'),
    } as const
    expect(judgeTray(tray, sight)).toMatchObject([{ rule: 'tray/held', level: 'stop' }])
  })
  it('the replacement is named where there is one, from a load that is not suspect, and once', () => {
    const { world, indicatorId, trayId } = week()
    const recall = planRecall(world, { kind: 'indicator', indicatorId }, at('09:00'))
    const spare = must(
      world.pack.find((pack) => pack.code === 'P1'),
      'P1 is of L1',
    )
    expect(recall.trays).toEqual([expect.objectContaining({ trayId, replacements: [spare.id] })])
    const without = { ...world, pack: world.pack.filter((pack) => pack !== spare) }
    expect(
      planRecall(without, { kind: 'indicator', indicatorId }, at('09:00')).trays[0]?.replacements,
    ).toEqual([])
  })
  it('the held tray takes the replacement and is laid out again', () => {
    const { world, trayId, appointmentId } = failedTwice()
    const again = performed(TRAY_COMMANDS['tray.claim'], { world, input: { trayId }, by: ana })
    const scanned = performed(TRAY_COMMANDS['tray.scan'], {
      world: again,
      input: { trayId, code: 'P1' },
      by: ana,
    })
    expect(trayOf(scanned, appointmentId).done).toBe(1)
  })
  it('it comes back only after repair and three passing empty cycles', () => {
    const { world, steriliserId } = failedTwice()
    const decision = decideOn(STERILITY_COMMANDS['steriliser.return'], {
      world,
      input: { steriliserId },
      by: lead,
    })
    expect(reasonsOf(decision)).toEqual(['steriliser/cycles-short'])
  })
  it('a pack without an id of its load cannot be narrowed', () => {
    const { world, indicatorId } = week()
    const lost = {
      ...must(world.pack[0], 'a pack'),
      id: nextId<Facts['pack']['id']>(),
      loadId: null,
      code: 'P9',
    }
    const recall = planRecall(
      { ...world, pack: [...world.pack, lost] },
      { kind: 'indicator', indicatorId },
      at('09:00'),
    )
    expect(recall.cannotNarrow).toEqual([lost.id])
    expect(recall.packs.map(({ code }) => code)).not.toContain('P9')
  })
  it('a recalled tray never keeps the pack, whatever it is called for', () => {
    const { world, trayId } = week()
    const load = must(world.load[1], 'L2')
    const recall = planRecall(world, { kind: 'load', loadId: load.id }, at('09:00'))
    const after = applyChange(world, recallChange(world, recall, { why: 'w', now: at('09:00') }))
    expect(after.trayLine.filter((line) => line.trayId === trayId && line.packId !== null)).toEqual([])
  })
})

describe('case 62 temp put doubtful packs on the shelf', () => {
  it('a pack of an unreleased load is refused; releasing takes a named, trained person', () => {
    const { world, appointmentId } = book(
      sterilised(bareClinic(), ['dam-set'], { number: 'S1-07', life: { kind: 'ended', at: at('07:40') } }),
    )
    const laid = withTray(world, appointmentId)
    const trayId = trayOf(laid, appointmentId).id
    const claimed = performed(TRAY_COMMANDS['tray.claim'], { world: laid, input: { trayId }, by: ana })
    const scan = decideOn(TRAY_COMMANDS['tray.scan'], {
      world: claimed,
      input: { trayId, code: 'P1' },
      by: ana,
    })
    expect(scan.ok ? [] : scan.reasons.map(say)).toEqual([
      'Pack P1: load S1-07 is not released. It may not be sterile. Take another pack, or have the load released.',
    ])
    const [load] = world.load
    const release = decideOn(STERILITY_COMMANDS['load.release'], {
      world,
      input: { steriliserId: load?.steriliserId, loadId: load?.id },
      by: { ...lead, releasesLoads: false },
    })
    expect(reasonsOf(release)).toEqual(['load/releaser-not-named'])
  })
})

describe('case 64 torn, wet, old', () => {
  const world = sterilised(bareClinic(), ['dam-set'])
  const fresh = must(world.pack[0], 'a pack')
  const judged = (pack: Facts['pack'], packAge: World['policySet'][number]['sterility']['packAge']) =>
    judgePack(pack, { load: world.load[0] ?? null, indicators: [], packAge, today: TODAY }).map(
      ({ rule }) => rule,
    )
  const POLICIES = [{ kind: 'event-related' }, { kind: 'dated', days: 60 }, { kind: 'unset' }] as const
  it('70 days old and intact: sound by event, reprocessed by 60 days, asked where unset', () => {
    const old = { ...fresh, sterilised: '2026-09-15' as Day }
    expect(POLICIES.map((policy) => judged(old, policy))).toEqual([[], ['pack/too-old'], ['pack/age-unset']])
  })
  it('dated yesterday, torn or damp: not sterile under every policy', () => {
    for (const outside of ['torn', 'wet'] as const) {
      const seen = { outside, outer: 'changed', inner: 'changed', by: ana.id, at: at('08:00') } as const
      for (const policy of POLICIES) expect(judged({ ...fresh, seen }, policy)).toContain(`pack/${outside}`)
      expect(judgeOpening(fresh, seen).map(({ rule }) => rule)).toEqual([`pack/${outside}`])
    }
  })
})

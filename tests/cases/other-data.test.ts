import { describe, expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import type { Day } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import { judgePack } from '#shared/sterility/pack.ts'
import { mayReturn } from '#shared/sterility/spore-test.ts'
import type { Load } from '#shared/sterility/sterility-facts.ts'
import { TRAY_COMMANDS } from '#shared/trays/commands.ts'
import { judgeTray } from '#shared/trays/judge.ts'
import { say } from '#shared/words/en.ts'
import {
  at,
  bareClinic,
  book,
  CLINIC,
  decideOn,
  linesOf,
  nextId,
  PEOPLE,
  performed,
  reasonsOf,
  sterilised,
  TODAY,
  trayOf,
  withTray,
} from '../support/tray-clinic.ts'

/** Practitioner cases again, with other data than theirs: the kind is mended, not the one input. Marks as there. */
const { ana, dentist } = PEOPLE

describe('case 62 doubtful packs, in every state that a load can have', () => {
  const lives: [Load['life'], string][] = [
    [{ kind: 'running' }, 'pack/not-released'],
    [{ kind: 'ended', at: at('07:10') }, 'pack/not-released'],
    [{ kind: 'failed', at: at('07:20'), by: ana.id, why: 'indicator failed' }, 'pack/load-failed'],
  ]
  test.each(lives)('%j: not onto a tray (%s)', (life, rule) => {
    const { world, appointmentId } = book(
      sterilised(bareClinic(), ['composite-set'], { number: 'B-112', life }),
    )
    const laid = withTray(world, appointmentId)
    const trayId = trayOf(laid, appointmentId).id
    const claimed = performed(TRAY_COMMANDS['tray.claim'], { world: laid, input: { trayId }, by: ana })
    const scan = decideOn(TRAY_COMMANDS['tray.scan'], {
      world: claimed,
      input: { trayId, code: 'P1' },
      by: ana,
    })
    expect(reasonsOf(scan)).toEqual([rule])
  })
  test('nor a pack that no load is known of, whatever it looks like', () => {
    const world = sterilised(bareClinic(), ['composite-set'])
    const pack = { ...must(world.pack[0], 'a pack'), loadId: null }
    const sight = { load: null, indicators: [], packAge: { kind: 'event-related' } as const, today: TODAY }
    expect(judgePack(pack, sight).map(({ rule }) => rule)).toEqual(['pack/load-unknown'])
  })
})

describe('case 64 old packs at the edge of the clinic’s own days', () => {
  const world = sterilised(bareClinic(), ['endodontic-set'])
  const rules = (sterilisedOn: string | null, days: number) =>
    judgePack(
      { ...must(world.pack[0], 'a pack'), sterilised: sterilisedOn as Day | null },
      { load: world.load[0] ?? null, indicators: [], packAge: { kind: 'dated', days }, today: TODAY },
    ).map(({ rule }) => rule)
  // COMMON: arithmetic, across the end of October, when clocks go back.
  test.each([
    ['2026-10-25', 30, []],
    ['2026-10-24', 30, ['pack/too-old']],
    ['2026-11-24', 1, []],
    ['2025-11-24', 365, []],
    ['2025-11-23', 365, ['pack/too-old']],
    [null, 365, ['pack/undated']],
  ] as const)('sterilised %s, kept %i days', (on, days, expected) => {
    expect(rules(on, days)).toEqual(expected)
  })
  test('[pack/undated] a date that has not come says nothing of the pack, under every policy', () => {
    const pack = { ...must(world.pack[0], 'a pack'), sterilised: '2026-12-01' as Day }
    for (const packAge of [{ kind: 'event-related' }, { kind: 'dated', days: 60 }] as const) {
      const found = judgePack(pack, { load: world.load[0] ?? null, indicators: [], packAge, today: TODAY })
      expect(found.map(({ rule }) => rule)).toEqual(['pack/undated'])
    }
  })
})

describe('case 60 back in service', () => {
  test.each([0, 1, 2])('%i passing cycles after the repair are too few', (passingCycles) => {
    expect(mayReturn({ ...OUT, passingCycles })).toBe(false)
  })
  test('three are enough, and only after the repair', () => {
    expect(mayReturn({ ...OUT, passingCycles: 3 })).toBe(true)
  })
  const OUT = {
    kind: 'out-of-service',
    since: at('07:00'),
    why: 'two positive spore tests',
    until: 'three-cycles-pass',
    passingCycles: 0,
  } as const
})

describe('case 69 what is missing, by other lines and days', () => {
  const start = () => {
    const { world, appointmentId } = book(sterilised(bareClinic(), []), {
      time: '14:05',
      kind: 'glass-ionomer',
    })
    const laid = withTray(world, appointmentId)
    const trayId = trayOf(laid, appointmentId).id
    return {
      appointmentId,
      trayId,
      world: performed(TRAY_COMMANDS['tray.claim'], { world: laid, input: { trayId }, by: ana }),
    }
  }
  const judged = (world: World, appointmentId: ReturnType<typeof start>['appointmentId']) =>
    judgeTray(trayOf(world, appointmentId), {
      appointment: { start: at('14:05') },
      stage: 'expected',
      policy: world.policySet[0] ?? null,
      now: at('13:50'),
    })

  test.each([
    ['2026-11-23', true],
    ['2026-11-24', false],
    [null, false],
  ] as const)('a material to be used by %s: expired %s', (expires, expired) => {
    const { world, trayId } = start()
    const line = must(
      linesOf(world, trayId).find(({ packKind, item }) => packKind === null && !item.startsWith('clamp')),
      'a line of material',
    )
    const lot = {
      clinicId: CLINIC,
      id: nextId<World['stockLine'][number]['id']>(),
      item: line.item,
      name: line.name,
      lot: 'K19',
      expires: expires as World['stockLine'][number]['expires'],
      count: 1,
      reorderAt: 0,
      contents: {},
    }
    const ticked = performed(TRAY_COMMANDS['tray.tick'], {
      world: { ...world, stockLine: [lot] },
      input: { trayId, lineId: line.id, stockLineId: lot.id },
      by: ana,
    })
    expect(linesOf(ticked, trayId).find(({ id }) => id === line.id)?.fault?.why ?? null).toBe(
      expired ? 'expired' : null,
    )
  })

  test('two lines missing: how many are there and the first of them, in words', () => {
    const { world, appointmentId, trayId } = start()
    const left = linesOf(world, trayId)
      .filter(({ packKind }) => packKind === null)
      .slice(2)
    const some = left.reduce(
      (filled, { id: lineId }) =>
        performed(TRAY_COMMANDS['tray.tick'], {
          world: filled,
          input: { trayId, lineId, inspected: true },
          by: ana,
        }),
      world,
    )
    const without = linesOf(some, trayId)
      .filter(({ packKind }) => packKind !== null)
      .reduce(
        (omitted, { id: lineId }) =>
          performed(TRAY_COMMANDS['tray.omit'], {
            world: omitted,
            input: { trayId, lineId, reason: 'single-use instruments today' },
            by: dentist,
          }),
        some,
      )
    const out = performed(TRAY_COMMANDS['tray.lay-out'], { world: without, input: { trayId }, by: ana })
    const { done, of } = trayOf(out, appointmentId)
    expect(of - done).toBe(2)
    const finding = judged(out, appointmentId).find(({ rule }) => rule === 'tray/line-missing')
    expect(finding && say(finding)).toMatch(new RegExp(`^${done} of ${of}: `))
  })
})

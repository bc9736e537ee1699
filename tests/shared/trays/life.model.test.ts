import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { applyChange } from '#shared/change.ts'
import type { Decision } from '#shared/command.ts'
import type { Facts, World } from '#shared/facts.ts'
import type { AppointmentId, TrayId } from '#shared/ids.ts'
import { TRAY_COMMANDS as COMMANDS } from '#shared/trays/commands.ts'
import { moveOf, type TRAY_EVENTS, TRAY_MOVES, TRAY_STATES, type TrayState } from '#shared/trays/lifecycle.ts'
import { kitsFor, linesFor } from '#shared/trays/needs.ts'
import { summaryOf } from '#shared/trays/summary.ts'
import { needsOf, trayFor } from '#shared/trays/tray-for.ts'
import {
  at,
  bareClinic,
  book,
  contextOf,
  dammed,
  linesOf,
  nextId,
  PEOPLE,
  sterilised,
  trayOf,
} from '../../support/tray-clinic.ts'

describe('the table of moves', () => {
  it('every state can be reached, and from every state a tray can still end cleared', () => {
    const reachable = (from: TrayState): Set<TrayState> => {
      const seen = new Set<TrayState>([from])
      for (const state of seen) for (const next of Object.values(TRAY_MOVES[state])) seen.add(next)
      return seen
    }
    expect(reachable('needed')).toEqual(new Set(TRAY_STATES))
    for (const state of TRAY_STATES) expect(reachable(state)).toContain('cleared')
  })
  it('only what was checked is opened, and only what was opened is counted back', () => {
    const into = (event: (typeof TRAY_EVENTS)[number]) =>
      TRAY_STATES.filter((state) => moveOf(state, event) !== null)
    expect(into('open')).toEqual(['checked'])
    expect(into('count-back')).toEqual(['opened'])
    expect(into('check')).toEqual(['laid-out'])
    expect(moveOf('opened', 'clear')).toBeNull()
  })
})

/** What a person would say of the tray from watching alone. */
interface Model {
  state: TrayState
}
interface Real {
  world: World
  appointmentId: AppointmentId
  trayId: TrayId
  minute: number
}

const input = (real: Real, more: object = {}) => ({ trayId: real.trayId, ...more })
const pick = <T>(all: readonly T[], index: number): T | undefined => all[index % Math.max(1, all.length)]

/** States that some history came to: the walk is no proof where it never goes. */
const reached = new Set<TrayState>(['needed'])

/** What must hold after every step, whatever was asked. */
function expectLaws({ world, appointmentId, trayId }: Real): void {
  const tray = trayOf(world, appointmentId)
  const lines = linesOf(world, trayId)
  expect({ ...tray, ...summaryOf(lines) }).toEqual(tray)
  const packs = lines.flatMap(({ packId }) => (packId === null ? [] : [packId]))
  expect(new Set(packs).size).toBe(packs.length)
  for (const pack of world.pack) {
    // A pack is reserved for this tray exactly when one of its lines has it.
    if (pack.life.kind === 'reserved') expect(packs).toContain(pack.id)
    if (packs.includes(pack.id)) expect(['reserved', 'opened', 'returned']).toContain(pack.life.kind)
  }
  if (tray.life.kind === 'checked') expect(tray.firstMissing).toBeNull()
}

interface Act {
  name: string
  decide: (real: Real, by: Facts['member'], n: number) => Decision
  /** The event it means to the table, where it is one. */
  event?: (typeof TRAY_EVENTS)[number]
}

const context = (real: Real, by: Facts['member']) =>
  contextOf(by, at(`08:${`${real.minute}`.padStart(2, '0')}`))
type Rule = {
  input: { parse: (input: unknown) => never }
  decide: (world: World, input: never, context: ReturnType<typeof contextOf>) => Decision
}
const act = (
  name: keyof typeof COMMANDS,
  more: (real: Real, n: number) => object,
  event?: Act['event'],
): Act => ({
  name,
  ...(event ? { event } : {}),
  decide: (real, by, n) => {
    const rule = COMMANDS[name] as unknown as Rule
    return rule.decide(real.world, rule.input.parse(input(real, more(real, n))), context(real, by))
  },
})
const nothing = () => ({})
const lineId = (real: Real, n: number) => pick(linesOf(real.world, real.trayId), n)?.id ?? nextId()

const ACTS: Act[] = [
  act('tray.claim', nothing, 'claim'),
  act('tray.let-go', nothing, 'let-go'),
  act('tray.hand-over', () => ({ to: PEOPLE.ben.id }), 'hand-over'),
  act('tray.take-over', () => ({ reason: 'r' }), 'take-over'),
  act('tray.lay-out', nothing, 'lay-out'),
  act('tray.check', nothing, 'check'),
  act('tray.hold', () => ({ why: 'w' }), 'hold'),
  act('tray.clear', nothing, 'clear'),
  act('tray.tick', (real, n) => ({ lineId: lineId(real, n), inspected: true })),
  act('tray.untick', (real, n) => ({ lineId: lineId(real, n) })),
  act('tray.scan', (real, n) => ({ code: pick(real.world.pack, n)?.code ?? 'X' })),
  act('tray.fault', (real, n) => ({ lineId: lineId(real, n), why: 'damaged' }), 'fault'),
  act('tray.omit', (real, n) => ({ lineId: lineId(real, n), reason: 'r' })),
  act('tray.swap', (real, n) => ({
    lineId: lineId(real, n),
    name: `other ${n}`,
    contents: { latex: 'free' },
  })),
  act(
    'tray.open',
    (real, n) => ({
      looked: linesOf(real.world, real.trayId).flatMap(({ packId }) =>
        packId === null
          ? []
          : [{ packId, outside: n % 5 === 0 ? 'torn' : 'sound', outer: 'changed', inner: 'changed' }],
      ),
    }),
    'open',
  ),
  act(
    'tray.count-back',
    (real) => ({
      counts: linesOf(real.world, real.trayId).map(({ id, count }) => ({ lineId: id, counted: count })),
    }),
    'count-back',
  ),
]

/** Fills whatever is missing, so that the later states are reached often. */
function fill(real: Real): World {
  return linesOf(real.world, real.trayId).reduce((world, line) => {
    if (line.omitted !== null || (line.tick !== null && line.fault === null)) return world
    const by = PEOPLE.ana
    const code = world.pack.find((pack) => pack.kind === line.packKind && pack.life.kind === 'shelf')?.code
    const rule = (line.packKind === null ? COMMANDS['tray.tick'] : COMMANDS['tray.scan']) as unknown as Rule
    const given = line.packKind === null ? { lineId: line.id, inspected: true } : { code: code ?? 'X' }
    const decision = rule.decide(
      world,
      rule.input.parse({ trayId: real.trayId, ...given }),
      context(real, by),
    )
    return decision.ok ? applyChange(world, decision.value.change) : world
  }, real.world)
}

const step = ({ name, decide, event }: Act, who: number, n: number): fc.Command<Model, Real> => ({
  check: () => true,
  run(model, real) {
    real.minute = (real.minute + 7) % 60
    const by = who === 0 ? PEOPLE.ana : PEOPLE.ben
    const before = real.world
    const decision = decide(real, by, n)
    if (!decision.ok) {
      expect(decision.reasons.length).toBeGreaterThan(0)
      expect(real.world).toBe(before)
      return
    }
    real.world = applyChange(real.world, decision.value.change)
    const next = trayOf(real.world, real.appointmentId).life.kind
    if (event === undefined || name === 'tray.open')
      expect([moveOf(model.state, 'open'), model.state, 'laid-out']).toContain(next)
    else if (event !== 'fault') expect(next).toBe(moveOf(model.state, event))
    model.state = next
    reached.add(next)
    expectLaws(real)
  },
  toString: () => `${name}(${who}, ${n})`,
})

const filled: fc.Command<Model, Real> = {
  check: () => true,
  run(model, real) {
    real.world = fill(real)
    expect(trayOf(real.world, real.appointmentId).life.kind).toBe(model.state)
    expectLaws(real)
  },
  toString: () => 'fill',
}

const NEXT: Record<TrayState, keyof typeof COMMANDS> = {
  needed: 'tray.claim',
  claimed: 'tray.lay-out',
  'laid-out': 'tray.check',
  checked: 'tray.open',
  opened: 'tray.count-back',
  'counted-back': 'tray.clear',
  cleared: 'tray.claim',
  held: 'tray.claim',
}
const ownerOf = ({ world, appointmentId }: Real): Facts['member'] => {
  const { life } = trayOf(world, appointmentId)
  return 'by' in life && life.by === PEOPLE.ben.id ? PEOPLE.ben : PEOPLE.ana
}
/** What its owner would do next, so that the whole way is walked often. */
const onward: fc.Command<Model, Real> = {
  check: () => true,
  run(model, real) {
    if (model.state === 'claimed') real.world = fill(real)
    const next = ACTS.find(({ name }) => name === NEXT[model.state])
    if (next) step(next, ownerOf(real) === PEOPLE.ana ? 0 : 1, 1).run(model, real)
  },
  toString: () => 'onward',
}

const PLANS = [
  dammed(),
  dammed({ state: 'alternative', sheets: [], alternative: 'cotton-rolls' }),
  dammed({ sheetMaterial: 'latex' }),
  dammed({
    sheets: [
      {
        field: ['36'],
        anchor: '36',
        clamps: [{ tooth: '36', family: 'MOLAR_WL', role: 'anchor' }],
        holes: [{ tooth: '36', size: 5 }],
        slit: [],
      },
    ],
  }),
]

/** The dentist changes the plan: the tray is drawn again, and then has exactly what it needs. */
const replan = (n: number): fc.Command<Model, Real> => ({
  check: () => true,
  run(model, real) {
    const agreed = pick(PLANS, n) ?? dammed()
    const world = {
      ...real.world,
      plan: real.world.plan.map((plan) => ({ ...plan, number: plan.number + 1, agreed })),
    }
    const change = trayFor(world, real.appointmentId, { newId: nextId, now: at('08:59') })
    real.world = applyChange(world, change)
    const tray = trayOf(real.world, real.appointmentId)
    if (model.state !== 'counted-back') {
      const [appointment] = real.world.appointment
      if (!appointment) return
      const needs = needsOf(real.world, appointment)
      const wanted = linesFor(needs, kitsFor(needs)).map(({ item }) => item)
      expect(
        linesOf(real.world, real.trayId)
          .map(({ item }) => item)
          .sort(),
      ).toEqual(wanted.sort())
      // Drawn again without a change of mind, nothing moves.
      const again = trayFor(real.world, real.appointmentId, { newId: nextId, now: at('08:59') })
      expect(again.put.trayLine ?? []).toEqual([])
    }
    model.state = tray.life.kind
    expectLaws(real)
  },
  toString: () => `replan(${n})`,
})

it('in every history a tray moves by its table, its summary is that of its lines, and no pack is in two places', () => {
  const anyStep = fc
    .tuple(fc.nat(ACTS.length - 1), fc.nat(1), fc.nat(40))
    .map(([index, who, n]) => step(ACTS[index] ?? (ACTS[0] as Act), who, n))
  const commands = fc.commands(
    [anyStep, anyStep, fc.constant(onward), fc.constant(onward), fc.constant(filled), fc.nat(3).map(replan)],
    {
      size: 'large',
      maxCommands: 30,
    },
  )
  fc.assert(
    fc.property(commands, (all) => {
      const kinds = ['dam-set', 'examination-set', 'composite-set'] as const
      const { world, appointmentId } = book(sterilised(bareClinic(), [...kinds, ...kinds]))
      const laid = applyChange(world, trayFor(world, appointmentId, { newId: nextId, now: at('08:00') }))
      const trayId = trayOf(laid, appointmentId).id
      const real: Real = { world: laid, appointmentId, trayId, minute: 0 }
      const model: Model = { state: 'needed' }
      fc.modelRun(() => ({ model, real }), all)
    }),
    { numRuns: 200 },
  )
  expect(reached).toEqual(new Set(TRAY_STATES))
})

import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Instant } from '#shared/base/moment.ts'
import {
  afterRepair,
  afterSporeTest,
  CYCLES_BEFORE_RETURN,
  judgeSteriliser,
  lastNegative,
  mayReturn,
  type SporeResult,
} from '#shared/sterility/spore-test.ts'
import type { Indicator, Steriliser } from '#shared/sterility/sterility-facts.ts'
import { at, CLINIC, nextId, PEOPLE, SITE } from '../../support/tray-clinic.ts'

const IN: Steriliser['life'] = { kind: 'in-service' }
const run = (...results: SporeResult[]) =>
  results.reduce((step, result) => afterSporeTest(step.life, result, at('09:00')), {
    life: IN,
    reach: 'none',
  } as ReturnType<typeof afterSporeTest>)

/** MMWR 2003;52(RR-17) as reproduced by test services; P&G CE474 (READ): what follows a positive spore test. */
const STEPS: [string, SporeResult[], string, string][] = [
  ['a pass changes nothing', ['pass'], 'in-service', 'none'],
  [
    'a positive takes it out of service and makes what came since doubtful',
    ['fail'],
    'repeat-passes',
    'doubtful',
  ],
  ['a passing repeat brings it back', ['fail', 'pass'], 'in-service', 'none'],
  ['a positive repeat recalls, and waits for the repair', ['fail', 'fail'], 'repaired', 'recall'],
  ['a pass before the repair counts for nothing', ['fail', 'fail', 'pass'], 'repaired', 'none'],
  ['an invalid test is neither', ['invalid'], 'in-service', 'none'],
  ['an invalid repeat leaves it out', ['fail', 'invalid'], 'repeat-passes', 'none'],
]
describe('after a spore test', () => {
  it.each(STEPS)('%s', (_, results, state, reach) => {
    const step = run(...results)
    expect(step.life.kind === 'in-service' ? 'in-service' : step.life.until).toBe(state)
    expect(step.reach).toBe(reach)
  })
})

/** The model: what the published path allows, kept apart from the code by counting only. */
class Model {
  out = false
  second = false
  repaired = false
  passes = 0
}
type Real = { life: Steriliser['life'] }
const read = (result: SporeResult): fc.Command<Model, Real> => ({
  check: () => true,
  run(model, real) {
    const { life, reach } = afterSporeTest(real.life, result, 0 as Instant)
    const wasFirst = !model.out
    const wasSecond = model.out && !model.second
    real.life = life
    if (result === 'fail') {
      expect(reach).toBe(wasFirst ? 'doubtful' : wasSecond ? 'recall' : 'none')
      model.second ||= wasSecond
      model.out = true
      model.repaired = false
      model.passes = 0
    }
    if (result === 'pass') {
      if (model.out && !model.second) model.out = false
      else if (model.repaired) model.passes++
      expect(reach).toBe('none')
    }
    expect(life.kind === 'out-of-service').toBe(model.out)
  },
  toString: () => `read ${result}`,
})
const repair: fc.Command<Model, Real> = {
  check: (model) => model.out && model.second,
  run(model, real) {
    if (real.life.kind !== 'out-of-service') throw new Error('it is out of service')
    real.life = afterRepair(real.life)
    if (!model.repaired) model.passes = 0
    model.repaired = true
  },
  toString: () => 'repair',
}
const giveBack: fc.Command<Model, Real> = {
  check: (model) => model.out,
  run(model, real) {
    if (real.life.kind !== 'out-of-service') throw new Error('it is out of service')
    const may = mayReturn(real.life)
    expect(may).toBe(model.repaired && model.passes >= CYCLES_BEFORE_RETURN)
    if (!may) return
    real.life = IN
    Object.assign(model, new Model())
  },
  toString: () => 'return',
}

it('in every history a steriliser comes back only after a passing repeat, or repair and three passes in a row', () => {
  const commands = [
    fc.constant(read('pass')),
    fc.constant(read('fail')),
    fc.constant(read('invalid')),
    fc.constant(repair),
    fc.constant(giveBack),
  ]
  fc.assert(
    fc.property(fc.commands(commands, { size: '+1' }), (all) => {
      fc.modelRun(() => ({ model: new Model(), real: { life: IN } }), all)
    }),
    { numRuns: 1000 },
  )
})

describe('what stands open on a steriliser', () => {
  const steriliser = (life: Steriliser['life'] = IN): Steriliser => ({
    clinicId: CLINIC,
    id: STERILISER,
    siteId: SITE,
    name: 'S1',
    type: 'gravity',
    life,
  })
  const STERILISER: Steriliser['id'] = nextId()
  const DAY = 86_400_000
  const test = (daysAgo: number, result: SporeResult | 'pending'): Indicator => ({
    clinicId: CLINIC,
    id: nextId(),
    steriliserId: STERILISER,
    loadId: null,
    kind: 'spore',
    placed: (at('09:00') - daysAgo * DAY) as Instant,
    life:
      result === 'pending'
        ? { kind: 'pending' }
        : { kind: 'read', at: at('09:00'), by: PEOPLE.lead.id, result },
  })
  const rules = (indicators: Indicator[], life = IN) =>
    judgeSteriliser(steriliser(life), indicators, at('09:00')).map(({ rule }) => rule)
  it('[spore/due] weekly at least: on the seventh day still in time, after it due, and due where none ever passed', () => {
    expect(rules([test(7, 'pass')])).toEqual([])
    expect(rules([test(8, 'pass')])).toEqual(['spore/due'])
    expect(rules([])).toEqual(['spore/due'])
    expect(rules([test(8, 'pass'), test(1, 'pending')])).toEqual([])
  })
  it('[spore/invalid] a control that did not grow is repeated', () =>
    expect(rules([test(3, 'pass'), test(1, 'invalid')])).toEqual(['spore/invalid']))
  it('[steriliser/out-of-service] says why', () =>
    expect(
      judgeSteriliser(steriliser(run('fail').life), [], at('09:00')).map((finding) => finding),
    ).toMatchObject([{ rule: 'steriliser/out-of-service', why: 'positive spore test' }]))
  it('the last negative is the last that passed, before a moment where one is named', () => {
    const tests = [test(9, 'pass'), test(5, 'pass'), test(2, 'fail'), test(1, 'pass')]
    expect(lastNegative(tests)).toBe(at('09:00') - DAY)
    expect(lastNegative(tests, (at('09:00') - 2 * DAY) as Instant)).toBe(at('09:00') - 5 * DAY)
    expect(lastNegative([test(2, 'fail')])).toBeNull()
  })
})

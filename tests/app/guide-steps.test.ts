import { describe, expect, test } from 'vitest'
import {
  type GuideStep,
  isCarrying,
  isDone,
  isTicked,
  isTickOf,
  listGuide,
  minutesOf,
  nextOf,
} from '#app/appointments/[appointmentId]/guide/_parts/guide-steps.ts'
import { must } from '#shared/base/assert.ts'
import { addMinutes } from '#shared/base/moment.ts'
import type { MemberId } from '#shared/ids.ts'
import type { GuideTick } from '#shared/isolation/guide-facts.ts'
import { planIsolation } from '#shared/isolation/plan.ts'
import type { PlanWork } from '#shared/isolation/plan-types.ts'
import { DEFAULT_ISOLATION_POLICY } from '#shared/isolation/policy.ts'
import { mouthFrom } from '#shared/teeth/mouth.ts'
import { AT } from './told-world.ts'

const planned = (...work: PlanWork[]) =>
  planIsolation({
    work,
    mouth: mouthFrom({}, { ageYears: 34, worked: work.flatMap(({ teeth }) => teeth) }),
    policy: DEFAULT_ISOLATION_POLICY,
    latex: 'none-known',
    choice: { policy: null, anchors: [], sheetMaterial: null, alternative: null, answers: [] },
    notes: [],
    sheet: null,
    measure: 1,
  })
const filling = (tooth: '46' | '26'): PlanWork => ({
  kind: 'direct-composite',
  teeth: [tooth],
  surfaces: { [tooth]: ['M', 'O'] },
})
const namesOf = (plan: ReturnType<typeof planned>) => listGuide(plan, 'placing').map(({ step }) => step.name)

/** The step, touched. */
const ticked = ({ number, step }: GuideStep, at = AT): GuideTick => ({
  planNumber: 1,
  part: 'placing',
  sheet: number,
  step: step.name,
  at,
  by: 'm' as MemberId,
})

/** COMMON: the order of the chair; what the patient is told stands first. */
describe('the guide at the chair', () => {
  const one = planned(filling('46'))
  const steps = listGuide(one, 'placing')

  test('begins with what the patient is told, and asks for the pinch after the clamp sits', () => {
    const names = namesOf(one)
    expect(names[0]).toBe('tell-patient')
    const carried = steps.findIndex(isCarrying)
    expect(names.indexOf('tie-floss')).toBeLessThan(carried)
    expect(names.indexOf('check-pinch')).toBeGreaterThan(carried)
    expect(names.indexOf('frame')).toBeGreaterThan(carried)
  })
  test('goes step by step to its end', () => {
    const ticks: GuideTick[] = []
    for (const expected of steps) {
      const next = must(nextOf(steps, ticks), 'a step is left')
      expect(next.key).toBe(expected.key)
      ticks.push(ticked(next, addMinutes(AT, ticks.length)))
    }
    expect(nextOf(steps, ticks)).toBeNull()
    expect(minutesOf(ticks)).toBe(steps.length - 1)
  })
  test('a step taken back is the next one again', () => {
    const [first, second] = steps
    const ticks = [ticked(must(second, 'a second step'))]
    expect(nextOf(steps, ticks)).toBe(first)
  })
  test('a tick counts on its own sheet, part and plan alone', () => {
    const [first] = steps
    const tick = ticked(must(first, 'a first step'))
    expect(isTicked(must(first, 'a first step'), [{ ...tick, sheet: 2 }])).toBe(false)
    const counts = isTickOf({ planNumber: 1, part: 'placing' })
    expect([tick, { ...tick, planNumber: 2 }, { ...tick, part: 'removal' as const }].map(counts)).toEqual([
      true,
      false,
      false,
    ])
  })
  test('nothing done is no time, not none', () => expect(minutesOf([])).toBeNull())

  test('two sheets in one sitting: each has its own steps, the patient is told once', () => {
    const two = planned(filling('46'), filling('26'))
    expect(two.sheets).toHaveLength(2)
    const names = namesOf(two)
    expect(names.filter((name) => name === 'tell-patient')).toHaveLength(1)
    expect(names.filter((name) => name === 'tie-floss')).toHaveLength(2)
    const keys = listGuide(two, 'placing').map(({ key }) => key)
    expect(new Set(keys).size).toBe(keys.length)
  })
  test('[clamp/untied] a clamp counts as tied only when every sheet’s floss is tied', () => {
    const two = listGuide(planned(filling('46'), filling('26')), 'placing')
    const ties = two.filter(({ step }) => step.name === 'tie-floss').map((each) => ticked(each))
    expect(isDone('tie-floss', two, ties.slice(0, 1))).toBe(false)
    expect(isDone('tie-floss', two, ties)).toBe(true)
  })
  test('taking off cuts the septa before the clamp comes off, and looks at the gum last', () => {
    const names = listGuide(one, 'removal').map(({ step }) => step.name)
    expect(names.indexOf('cut-septa')).toBeLessThan(names.indexOf('take-off-clamp'))
    expect(names.at(-1)).toBe('look-at-gum')
  })
})

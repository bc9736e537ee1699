import { describe, expect, test } from 'vitest'
import { applyChange, isEmpty } from '#shared/change.ts'
import type { Decision } from '#shared/command.ts'
import { decide } from '#shared/decide.ts'
import type { World } from '#shared/facts.ts'
import type { Member } from '#shared/people/clinic.ts'
import { ASSISTANT, at, context, DENTIST, scene, VISITED } from '#tests/shared/readiness/scene.ts'

const TICK = {
  appointmentId: VISITED,
  planNumber: 1,
  part: 'placing',
  sheet: 1,
  step: 'tie-floss',
  done: true,
  at: at(-5),
}
const tick = (
  world: World,
  some: object = {},
  { by = ASSISTANT, now = at(0) }: { by?: Member; now?: ReturnType<typeof at> } = {},
): Decision => decide(world, { kind: 'guide.tick', input: { ...TICK, ...some } }, context(by, now, 950))
const told = (world: World, decision: Decision): World => {
  if (!decision.ok) throw new Error(JSON.stringify(decision.reasons))
  return applyChange(world, decision.value.change)
}
const ticksOf = (world: World) => world.guide[0]?.ticks ?? []

/** COMMON: what is done at the chair is seen by whoever looks, and its time is the time of the touch. */
describe('steps at the chair are facts', () => {
  test('a step is kept with who, when and on which plan', () => {
    expect(ticksOf(told(scene(), tick(scene())))).toEqual([
      { planNumber: 1, part: 'placing', sheet: 1, step: 'tie-floss', at: at(-5), by: ASSISTANT.id },
    ])
  })

  test('told late by a screen that was cut off it keeps the time of the touch; never one to come', () => {
    expect(ticksOf(told(scene(), tick(scene(), { at: at(-40) })))[0]?.at).toBe(at(-40))
    expect(ticksOf(told(scene(), tick(scene(), { at: at(30) })))[0]?.at).toBe(at(0))
  })

  test('told twice, by two screens, it keeps the first touch', () => {
    const once = told(scene(), tick(scene()))
    const again = tick(once, { at: at(-1) }, { by: DENTIST })
    expect(again.ok && isEmpty(again.value.change)).toBe(true)
  })

  test('a step is taken back, and no other with it', () => {
    const once = told(scene(), tick(scene()))
    const twice = told(once, tick(once, { sheet: 2 }))
    const back = told(twice, tick(twice, { done: false }))
    expect(ticksOf(back)).toMatchObject([{ sheet: 2, step: 'tie-floss' }])
  })

  test('placing and taking off are ticked apart', () => {
    const once = told(scene(), tick(scene(), { part: 'removal', step: 'cut-septa' }))
    expect(ticksOf(told(once, tick(once)))).toHaveLength(2)
  })

  test('[plan/stale] a step of a plan that has moved on is refused', () => {
    const decision = tick(scene(), { planNumber: 2 })
    expect(decision.ok ? [] : decision.reasons).toMatchObject([{ rule: 'plan/stale', sent: 2, stands: 1 }])
  })

  test('it lapses no word and moves no plan', () => {
    const world = told(scene(), tick(scene()))
    expect([world.word, world.plan]).toEqual([scene().word, scene().plan])
  })
})

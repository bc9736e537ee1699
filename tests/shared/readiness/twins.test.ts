import { describe, expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { findAppointment, indexDay } from '#shared/readiness/day-index.ts'
import { judgeOpen } from '#shared/readiness/judges.ts'
import { AGREED, at, having, plan, scene, VISITED, work } from './scene.ts'

const rulesOf = (world: ReturnType<typeof scene>): string[] => {
  const day = indexDay(world)
  const facts = must(findAppointment(day, VISITED), 'the scene holds it')
  return judgeOpen({ facts, day, now: at(-5) }).map(({ rule }) => rule)
}
const draft = (...open: string[]) => plan({ ...AGREED, state: 'draft', open })

/** COMMON: a person answers a question once; it is asked once. */
describe('the same question is asked once', () => {
  const noTooth = having(scene(), 'work', work({ teeth: [], surfaces: {}, mentions: [] }))
  test('[work/no-tooth] the work’s own question stands alone where it is the plan’s only one', () => {
    const rules = rulesOf(having(noTooth, 'plan', draft('field/no-tooth')))
    expect(rules).toContain('work/no-tooth')
    expect(rules).not.toContain('plan/question')
  })
  test('[plan/question] stays where another question of the plan is open too', () => {
    expect(rulesOf(having(noTooth, 'plan', draft('field/no-tooth', 'anchor/unsuitable')))).toContain(
      'plan/question',
    )
  })
  test('[plan/question] stays where nothing else asks it: a draft is never silent', () => {
    expect(rulesOf(having(scene(), 'plan', draft('field/no-tooth')))).toContain('plan/question')
    expect(rulesOf(having(scene(), 'plan', draft('field/tooth-not-standing')))).toContain('plan/question')
  })
  test('[plan/question] stays where the plan only waits for the work to be named', () => {
    expect(rulesOf(having(scene(), 'plan', plan({ ...AGREED, state: 'undetermined', open: [] })))).toContain(
      'plan/question',
    )
  })
})

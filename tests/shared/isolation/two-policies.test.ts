import { describe, expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { FIELD_POLICY_IDS } from '#shared/isolation/isolation-facts.ts'
import { planFor, planUnder } from '#shared/isolation/plan-for.ts'
import { scene, VISITED } from '#tests/shared/readiness/scene.ts'

/** Where authorities differ each stands alone beside the other (design of the policies; sources in `policy.ts`). */
describe('another policy on the same mouth', () => {
  const world = scene()
  const stands = must(planFor(world, VISITED), 'the scene has work')

  test('looking chooses nothing: the world’s own plan is the same after', () => {
    const before = JSON.stringify(world)
    for (const policy of FIELD_POLICY_IDS) planUnder(world, VISITED, policy)
    expect(JSON.stringify(world)).toBe(before)
    expect(planFor(world, VISITED)?.version).toBe(stands.version)
  })
  test.each(FIELD_POLICY_IDS)('%s gives the field it is named for, or asks', (policy) => {
    const plan = must(planUnder(world, VISITED, policy), 'the scene holds it')
    const silent = plan.findings.some(({ rule }) => rule === 'field/policy-silent')
    expect(silent || plan.sheets.every((sheet) => sheet.policy === policy)).toBe(true)
  })
  test('the clinic’s own is what stands where nobody chose', () => {
    expect(planUnder(world, VISITED, null)?.version).toBe(stands.version)
  })
  test('a choice of it makes that plan', () => {
    const looked = must(planUnder(world, VISITED, 'LIMITED_1D2M'), 'the scene holds it')
    const [appointment] = world.appointment
    const choice = {
      clinicId: must(appointment, 'booked').clinicId,
      id: '00000000-0000-4000-8000-00000000aaaa',
      appointmentId: VISITED,
      policy: 'LIMITED_1D2M',
      anchors: [],
      sheetMaterial: null,
      alternative: null,
      answers: [],
    }
    const chosen = { ...world, isolationChoice: [choice] } as unknown as typeof world
    expect(planFor(chosen, VISITED)?.version).toBe(looked.version)
  })
})

import { describe, expect, test } from 'vitest'
import type { Seen } from '#app/_live/seen.ts'
import {
  choicesOf,
  type Draft,
  doseOf,
  draftOf,
  leftOf,
} from '#app/appointments/[appointmentId]/_parts/dose-draft.ts'
import { amountWords, doseWords } from '#app/appointments/[appointmentId]/_parts/solutions.ts'
import type { PlannedDose } from '#shared/anaesthesia/anaesthetic.ts'
import { solutionKey } from '#shared/anaesthesia/cartridge.ts'
import { must } from '#shared/base/assert.ts'
import type { World } from '#shared/facts.ts'
import { findAppointment, indexDay } from '#shared/readiness/day-index.ts'
import { BLOCK, does, inChair } from '#tests/shared/readiness/chair.ts'
import { AGREED, having, plan, VISITED, work } from '#tests/shared/readiness/scene.ts'

const BESIDE: PlannedDose = {
  ...BLOCK,
  agent: 'articaine',
  milliPercent: 4000,
  technique: 'infiltration',
  tenthsOfCartridge: 5,
}
/** Work on 46 under a clamp on 47. */
const clampedBehind = (planned: PlannedDose[]): World => {
  const sheets = AGREED.sheets.map((sheet) => ({
    ...sheet,
    anchor: '47' as const,
    clamps: sheet.clamps.map((clamp) => ({ ...clamp, tooth: '47' as const })),
  }))
  const world = having(having(inChair(), 'work', work()), 'plan', plan({ ...AGREED, sheets }))
  return having(world, 'anaesthetic', { ...must(world.anaesthetic[0], 'one'), planned })
}
const seen = (world: World, isPutAway = false): Seen =>
  ({ facts: must(findAppointment(indexDay(world), VISITED), 'held'), isPutAway }) as unknown as Seen

describe('what is drawn up, by touch alone', () => {
  test('the first of the plan stands chosen; once it is in, the next', () => {
    const world = having(inChair(), 'anaesthetic', {
      ...must(inChair().anaesthetic[0], 'one'),
      planned: [BLOCK, BESIDE],
    })
    expect(doseOf(draftOf(seen(world)), seen(world))).toEqual(BLOCK)
    const given = does(world, 'dose.record', { dose: BLOCK, alreadyGiven: true })
    expect(leftOf(seen(given))).toEqual([BESIDE])
    expect(doseOf(draftOf(seen(given)), seen(given))).toEqual(BESIDE)
  })

  test('where, is among the teeth that work and plan name; put away, the clamp’s is not told', () => {
    const world = clampedBehind([{ ...BLOCK, tooth: '45' }])
    expect(choicesOf(seen(world)).teeth).toEqual(['46', '45', '47'])
    expect(choicesOf(seen(world, true)).teeth).toEqual(['46', '45'])
  })

  test('without a plan nothing is chosen but the worked tooth, and nothing is given before all is', () => {
    const bare = seen(clampedBehind([]))
    const draft = draftOf(bare)
    expect(draft).toMatchObject({ solution: '', technique: '', tooth: '46' })
    expect(doseOf(draft, bare)).toBeNull()
    expect(doseOf({ ...draft, solution: solutionKey(BLOCK) }, bare)).toBeNull()
    const whole: Draft = { ...draft, solution: solutionKey(BLOCK), technique: 'block', tooth: '47' }
    expect(doseOf(whole, bare)).toMatchObject({ ...BLOCK, tooth: '47', side: 'right' })
  })

  test('what is planned beyond the drawer, and its amount, can be chosen too', () => {
    const odd: PlannedDose = {
      ...BLOCK,
      vasoconstrictor: 'levonordefrin',
      ratio: 20_000,
      agent: 'mepivacaine',
    }
    const planned = seen(clampedBehind([{ ...odd, tenthsOfCartridge: 7 }]))
    expect(choicesOf(planned).labels.has(solutionKey(odd))).toBe(true)
    expect(choicesOf(planned).tenths).toContain(7)
  })

  test('an ester is only laid on', () => {
    const bare = seen(clampedBehind([]))
    const gel = [...choicesOf(bare).labels].find(([, { agent }]) => agent === 'benzocaine')?.[0] ?? ''
    const draft: Draft = { ...draftOf(bare), solution: gel, technique: 'block' }
    expect(doseOf(draft, bare)).toBeNull()
    const dose = must(doseOf({ ...draft, technique: 'topical', tenths: '1' }, bare), 'laid on')
    expect(amountWords(dose)).toBe('about 0.17 mL')
    expect(doseWords(dose, 'iso')).toBe('benzocaine 20 %, plain, topical at 46')
  })
})

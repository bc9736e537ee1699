import { describe, expect, test } from 'vitest'
import type { CartridgeReading, PlannedDose } from '#shared/anaesthesia/anaesthetic.ts'
import { labelOf } from '#shared/anaesthesia/cartridge.ts'
import { grams } from '#shared/base/amount.ts'
import { must } from '#shared/base/assert.ts'
import type { Day } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import { BLOCK, does, inChair, refusals, shutting } from '#tests/shared/readiness/chair.ts'
import { ASSISTANT, at, DENTIST, having, READ_LABEL, withLabels } from '#tests/shared/readiness/scene.ts'

/** An infiltration of another agent beside the block. */
const BESIDE: PlannedDose = {
  ...BLOCK,
  agent: 'articaine',
  milliPercent: 4000,
  technique: 'infiltration',
  tenthsOfCartridge: 5,
}
const OTHER: PlannedDose = {
  ...BLOCK,
  agent: 'mepivacaine',
  milliPercent: 3000,
  vasoconstrictor: 'none',
  ratio: null,
}
const READ_BESIDE: CartridgeReading = {
  ...READ_LABEL,
  ...labelOf(BESIDE),
  read: { by: ASSISTANT.id, at: at(-6) },
  answered: { by: DENTIST.id, at: at(-6) },
}
/** The chair with both planned, under the word that stands. */
const planned = (...doses: PlannedDose[]): World =>
  having(inChair(), 'anaesthetic', { ...must(inChair().anaesthetic[0], 'one'), planned: doses })
const both = planned(BLOCK, BESIDE)
const giving = (world: World, dose: PlannedDose, minute = -5) =>
  refusals(world, 'dose.record', { dose }, { minute })

// Dental Protection August 2021 (READ): drug, strength and expiry of the cartridge in the hand are read back.
describe('two solutions in one plan', () => {
  test('[cartridge/not-read-back] the label of one is none for the other', () => {
    expect(giving(both, BLOCK)).toEqual([])
    expect(giving(both, BESIDE)).toEqual(['cartridge/not-read-back'])
    const labelled = withLabels(both, READ_LABEL, READ_BESIDE)
    expect(giving(labelled, BLOCK)).toEqual([])
    expect(giving(labelled, BESIDE)).toEqual([])
  })

  test('[dose/not-as-planned] a third is neither, and one read by mistake holds the chair for both', () => {
    expect(giving(both, OTHER)).toContain('dose/not-as-planned')
    const mistaken: CartridgeReading = { ...READ_BESIDE, ...labelOf(OTHER), answered: null }
    const held = withLabels(both, READ_LABEL, READ_BESIDE, mistaken)
    expect(shutting(held, 'inject')).toContain('dose/not-as-planned')
    for (const dose of [BLOCK, BESIDE]) expect(giving(held, dose)).toContain('dose/not-as-planned')
  })

  test('[dose/other-side] the side is checked for each of them', () => {
    const labelled = withLabels(both, READ_LABEL, READ_BESIDE)
    for (const dose of [BLOCK, BESIDE]) {
      expect(giving(labelled, { ...dose, tooth: '36', side: 'left' })).toContain('dose/other-side')
    }
  })

  test('each is given for itself, and what is given beyond either lapses the word', () => {
    const labelled = withLabels(both, READ_LABEL, READ_BESIDE)
    const first = does(labelled, 'dose.record', { dose: BLOCK })
    expect(giving(first, BESIDE, -4)).toEqual([])
    const second = does(first, 'dose.record', { dose: BESIDE }, { minute: -4 })
    expect(second.dose.map(({ agent, technique }) => [agent, technique])).toEqual([
      ['lidocaine', 'block'],
      ['articaine', 'infiltration'],
    ])
    expect(second.word).toMatchObject([{ life: { kind: 'live' } }])
    const third = does(second, 'dose.record', { dose: BESIDE, alreadyGiven: true }, { minute: -3 })
    expect(third.word).toMatchObject([{ life: { kind: 'lapsed', why: 'dose-changed' } }])
  })

  // 4.4 and 7 mg/kg of 15 kg are 66 and 105 mg (AAPD, second-hand READ): 34 + 34 mg are over the lower of the two.
  test('[dose/over-maximum] planned together they are checked together', () => {
    const child = (world: World): World => ({
      ...world,
      patient: world.patient.map((each) => ({
        ...each,
        born: '2020-03-02' as Day,
        guardian: { relation: 'mother', present: { relation: null, by: ASSISTANT.id, at: at(-9) } },
        weight: {
          grams: grams(15_000),
          entered: { value: '15', unit: 'kg' as const },
          by: ASSISTANT.id,
          at: at(-9),
        },
      })),
    })
    const plan = (...doses: PlannedDose[]) =>
      refusals(child(inChair()), 'anaesthetic.plan', { planned: doses })
    expect(plan(BLOCK)).toEqual([])
    expect(plan(BESIDE)).toEqual([])
    expect(plan(BLOCK, BESIDE)).toEqual(['dose/over-maximum'])
  })
})

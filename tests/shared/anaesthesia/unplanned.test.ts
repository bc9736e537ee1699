import { describe, expect, test } from 'vitest'
import type { PlannedDose } from '#shared/anaesthesia/anaesthetic.ts'
import { grams } from '#shared/base/amount.ts'
import type { Day } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import type { Patient } from '#shared/people/patient.ts'
import { asks, BLOCK, does, inChair, refusals, shutting } from '#tests/shared/readiness/chair.ts'
import {
  ASSISTANT,
  at,
  DENTIST,
  having,
  idOf,
  READ_LABEL,
  withLabels,
  word,
} from '#tests/shared/readiness/scene.ts'

/** Design, gates: the needle needs "dose check answered", whether the dose was planned or not. */
const ARTICAINE: PlannedDose = { ...BLOCK, agent: 'articaine', milliPercent: 4000, technique: 'infiltration' }
const PRILOCAINE: PlannedDose = {
  ...BLOCK,
  agent: 'prilocaine',
  milliPercent: 4000,
  vasoconstrictor: 'none',
  ratio: null,
}

/** In the chair, everything before the needle answered, this label read, nothing planned. */
function seated(
  { agent, milliPercent, vasoconstrictor, ratio }: PlannedDose,
  more: Partial<Patient> = {},
): World {
  const world = withLabels(inChair(), { ...READ_LABEL, agent, milliPercent, vasoconstrictor, ratio })
  return { ...world, patient: world.patient.map((each) => ({ ...each, ...more })) }
}

const allergicTo = (world: World, substance: 'sulfites' | 'amide-anaesthetics'): World => ({
  ...world,
  allergyRecord: world.allergyRecord.map((each) => ({
    ...each,
    state: 'listed' as const,
    allergies: [
      {
        substance,
        certainty: 'confirmed' as const,
        severity: 'severe' as const,
        criticality: 'high' as const,
        text: 'collapse',
        code: null,
        recorded: { by: ASSISTANT.id, at: at(-600), source: 'asked' },
      },
    ],
  })),
})
const weighed = (world: World, kilograms: number): World => ({
  ...world,
  patient: world.patient.map((each) => ({
    ...each,
    weight: {
      grams: grams(kilograms * 1000),
      entered: { value: String(kilograms), unit: 'kg' as const },
      by: ASSISTANT.id,
      at: at(-8),
    },
  })),
})
const METHAEMOGLOBIN = [{ text: 'congenital methaemoglobinaemia', at: at(-600), by: DENTIST.id }]

describe('a dose that nobody planned is checked before the needle', () => {
  test('a grown-up whose weight is not known is a line, and no bar', () =>
    expect(refusals(seated(BLOCK), 'dose.record', { dose: BLOCK })).toEqual([]))
  test.each<[string, World, PlannedDose, string]>([
    // AAPD and label: articaine from 4 years (READ). Without a weight no maximum can be worked out.
    ['not weighed at three', seated(ARTICAINE, { born: '2023-11-01' as Day }), ARTICAINE, 'weight-missing'],
    ['three years old', weighed(seated(ARTICAINE, { born: '2023-11-01' as Day }), 15), ARTICAINE, 'age-gate'],
    // US labels: sulfite hypersensitivity, amide allergy, methaemoglobinaemia (READ).
    ['a sulfite allergy', allergicTo(weighed(seated(BLOCK), 70), 'sulfites'), BLOCK, 'barred'],
    ['an amide allergy', allergicTo(weighed(seated(BLOCK), 70), 'amide-anaesthetics'), BLOCK, 'barred'],
    [
      'methaemoglobinaemia',
      weighed(seated(PRILOCAINE, { history: METHAEMOGLOBIN }), 70),
      PRILOCAINE,
      'barred',
    ],
  ])('%s', (_, world, dose, rule) =>
    expect(refusals(world, 'dose.record', { dose })).toContain(`dose/${rule}`),
  )
  test('[dose/over-maximum] twenty cartridges are over, planned or not', () =>
    expect(
      refusals(weighed(seated(BLOCK), 70), 'dose.record', {
        dose: { ...BLOCK, tenthsOfCartridge: 200 },
      }),
    ).toContain('dose/over-maximum'))

  test('what is in already is kept all the same, with what was wrong told', () => {
    const child = seated(ARTICAINE, { born: '2023-11-01' as Day })
    const decision = asks(child, 'dose.record', { dose: ARTICAINE, alreadyGiven: true })
    expect(decision.ok && decision.value.findings.map(({ rule }) => rule)).toContain('dose/weight-missing')
    expect(decision.ok && decision.value.change.put.dose).toHaveLength(1)
  })
})

describe('[dose/none-intended] "no injection by intent" stands until the dentist changes it', () => {
  const meant = does(seated(BLOCK), 'anaesthetic.none-by-intent', {
    reason: 'necrotic',
    topicalAtClamp: true,
  })
  test('an injection is refused, what is laid on is not', () => {
    expect(refusals(meant, 'dose.record', { dose: BLOCK })).toContain('dose/none-intended')
    const topical = { ...BLOCK, technique: 'topical' }
    expect(refusals(meant, 'dose.record', { dose: topical })).toEqual([])
  })
  test('[numbness/not-tested] one that is in all the same is tested at the gum like any other', () => {
    const given = does(meant, 'dose.record', { dose: BLOCK, alreadyGiven: true })
    const live = having(given, 'word', word({ id: idOf(81), at: at(-4) }))
    expect(shutting(live, 'start', 20)).toEqual(
      expect.arrayContaining(['numbness/not-tested', 'numbness/tooth-not-tested']),
    )
  })
})

import { describe, expect, test } from 'vitest'
import { ANAESTHESIA_COMMANDS } from '#shared/anaesthesia/commands.ts'
import { grams } from '#shared/base/amount.ts'
import type { Day } from '#shared/base/moment.ts'
import { applyChange } from '#shared/change.ts'
import type { Decision } from '#shared/command.ts'
import type { World } from '#shared/facts.ts'
import type { Patient } from '#shared/people/patient.ts'
import { judgeGate } from '#shared/readiness/gate.ts'
import { say } from '#shared/words/en.ts'
import {
  ASSISTANT,
  at,
  context,
  DENTIST,
  having,
  idOf,
  READ_LABEL,
  scene,
  VISITED,
  visit,
  withLabels,
  word,
} from '#tests/shared/readiness/scene.ts'

/** Design, gates: the needle needs "dose check answered", whether the dose was planned or not. */
const LIDOCAINE = {
  agent: 'lidocaine',
  milliPercent: 2000,
  vasoconstrictor: 'epinephrine',
  ratio: 100_000,
  cartridge: 1700,
  technique: 'block',
  tooth: '46',
  side: 'right',
  tenthsOfCartridge: 10,
} as const
const ARTICAINE = { ...LIDOCAINE, agent: 'articaine', milliPercent: 4000, technique: 'infiltration' } as const
const PRILOCAINE = {
  ...LIDOCAINE,
  agent: 'prilocaine',
  milliPercent: 4000,
  vasoconstrictor: 'none',
  ratio: null,
} as const
type Given = typeof LIDOCAINE | typeof ARTICAINE | typeof PRILOCAINE

/** In the chair, everything before the needle answered, this label read, nothing planned. */
function seated(given: Given, patient: Partial<Patient> = {}): World {
  const sitting = visit('seated', { readBack: { teeth: ['46'], planNumber: 1, by: DENTIST.id, at: at(-6) } })
  const known = { historyConfirmed: { by: ASSISTANT.id, at: at(-9) }, ...patient }
  const { agent, milliPercent, vasoconstrictor, ratio } = given
  const world = withLabels(scene(), { ...READ_LABEL, agent, milliPercent, vasoconstrictor, ratio })
  return having(
    { ...world, patient: world.patient.map((each) => ({ ...each, ...known })), word: [word()] },
    'visit',
    sitting,
  )
}
const ask = (world: World, kind: keyof typeof ANAESTHESIA_COMMANDS, more: object): Decision => {
  const rule = ANAESTHESIA_COMMANDS[kind]
  const input = rule.input.parse({ appointmentId: VISITED, ...more })
  return rule.decide(world, input as never, context(DENTIST, at(-5)))
}
const refusals = (decision: Decision): string[] =>
  decision.ok ? [] : decision.reasons.map(({ rule }) => rule)
const done = (world: World, decision: Decision): World => {
  if (!decision.ok) throw new Error(decision.reasons.map(say).join(' '))
  return applyChange(world, decision.value.change)
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
    expect(refusals(ask(seated(LIDOCAINE), 'dose.record', { dose: LIDOCAINE }))).toEqual([]))
  test.each<[string, World, Given, string]>([
    // AAPD and label: articaine from 4 years (READ). Without a weight no maximum can be worked out.
    ['not weighed at three', seated(ARTICAINE, { born: '2023-11-01' as Day }), ARTICAINE, 'weight-missing'],
    ['three years old', weighed(seated(ARTICAINE, { born: '2023-11-01' as Day }), 15), ARTICAINE, 'age-gate'],
    // US labels: sulfite hypersensitivity, amide allergy, methaemoglobinaemia (READ).
    ['a sulfite allergy', allergicTo(weighed(seated(LIDOCAINE), 70), 'sulfites'), LIDOCAINE, 'barred'],
    [
      'an amide allergy',
      allergicTo(weighed(seated(LIDOCAINE), 70), 'amide-anaesthetics'),
      LIDOCAINE,
      'barred',
    ],
    [
      'methaemoglobinaemia',
      weighed(seated(PRILOCAINE, { history: METHAEMOGLOBIN }), 70),
      PRILOCAINE,
      'barred',
    ],
  ])('%s', (_, world, dose, rule) =>
    expect(refusals(ask(world, 'dose.record', { dose }))).toContain(`dose/${rule}`),
  )
  test('[dose/over-maximum] twenty cartridges are over, planned or not', () =>
    expect(
      refusals(
        ask(weighed(seated(LIDOCAINE), 70), 'dose.record', {
          dose: { ...LIDOCAINE, tenthsOfCartridge: 200 },
        }),
      ),
    ).toContain('dose/over-maximum'))

  test('what is in already is kept all the same, with what was wrong told', () => {
    const child = seated(ARTICAINE, { born: '2023-11-01' as Day })
    const decision = ask(child, 'dose.record', { dose: ARTICAINE, alreadyGiven: true })
    expect(decision.ok && decision.value.findings.map(({ rule }) => rule)).toContain('dose/weight-missing')
    expect(decision.ok && decision.value.change.put.dose).toHaveLength(1)
  })
})

describe('[dose/none-intended] "no injection by intent" stands until the dentist changes it', () => {
  const meant = done(
    seated(LIDOCAINE),
    ask(seated(LIDOCAINE), 'anaesthetic.none-by-intent', { reason: 'necrotic', topicalAtClamp: true }),
  )
  test('an injection is refused, what is laid on is not', () => {
    expect(refusals(ask(meant, 'dose.record', { dose: LIDOCAINE }))).toContain('dose/none-intended')
    const topical = { ...LIDOCAINE, technique: 'topical' }
    expect(refusals(ask(meant, 'dose.record', { dose: topical }))).toEqual([])
  })
  test('[numbness/not-tested] one that is in all the same is tested at the gum like any other', () => {
    const given = done(meant, ask(meant, 'dose.record', { dose: LIDOCAINE, alreadyGiven: true }))
    const live = having(given, 'word', word({ id: idOf(81), at: at(-4) }))
    const shut = judgeGate(live, { appointmentId: VISITED, gate: 'start', now: at(20) })
    expect(shut.map(({ rule }) => rule)).toEqual(
      expect.arrayContaining(['numbness/not-tested', 'numbness/tooth-not-tested']),
    )
  })
})

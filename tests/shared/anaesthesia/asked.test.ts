import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { answerDose } from '#server/command-line/dose.ts'
import type { Dose } from '#shared/anaesthesia/anaesthetic.ts'
import { ANAESTHESIA_COMMANDS } from '#shared/anaesthesia/commands.ts'
import { readHeart } from '#shared/anaesthesia/history.ts'
import { type DoseSight, judgeDose } from '#shared/anaesthesia/judge-dose.ts'
import { isSold } from '#shared/anaesthesia/solution.ts'
import { grams } from '#shared/base/amount.ts'
import { must } from '#shared/base/assert.ts'
import type { Day, Zone } from '#shared/base/moment.ts'
import { defaultPolicySet } from '#shared/people/default-policy.ts'
import type { Patient } from '#shared/people/patient.ts'
import type { Side, Tooth } from '#shared/teeth/tooth.ts'
import { say } from '#shared/words/en.ts'
import { BLOCK } from '#tests/shared/readiness/chair.ts'
import {
  ASSISTANT,
  at,
  CLINIC,
  context,
  DENTIST,
  idOf,
  scene,
  VISITED,
} from '#tests/shared/readiness/scene.ts'

const PLAIN = {
  ...BLOCK,
  agent: 'mepivacaine',
  milliPercent: 3000,
  vasoconstrictor: 'none',
  ratio: null,
} as const
const ARTICAINE = { ...BLOCK, agent: 'articaine', milliPercent: 4000 } as const
const given = (more: Partial<Dose> = {}): Dose => ({
  ...BLOCK,
  clinicId: CLINIC,
  id: idOf(700),
  appointmentId: VISITED,
  patientId: idOf(30),
  by: DENTIST.id,
  at: at(0),
  ...more,
})
const patient = (texts: readonly string[], more: Partial<Patient> = {}): Patient => ({
  ...(scene().patient[0] as Patient),
  born: '1980-01-01' as Day,
  history: texts.map((text) => ({ text, by: null, at: at(-600) })),
  historyConfirmed: { by: ASSISTANT.id, at: at(-9) },
  weight: { grams: grams(70_000), entered: { value: '70', unit: 'kg' }, by: ASSISTANT.id, at: at(-8) },
  ...more,
})
const sight = (doses: readonly Dose[], more: Partial<DoseSight> = {}): DoseSight => ({
  appointmentId: VISITED,
  anaesthetic: null,
  given: doses,
  patient: patient([]),
  day: '2026-11-24' as Day,
  zone: 'Europe/Dublin' as Zone,
  allergies: null,
  policy: defaultPolicySet(CLINIC, idOf(2)),
  worked: ['46'],
  sedated: false,
  ...more,
})
const rules = (doses: readonly Dose[], more: Partial<DoseSight> = {}): string[] =>
  judgeDose(sight(doses, more))
    .filter(({ level }) => level !== 'note')
    .map(({ rule }) => rule)
const five = [given({ tenthsOfCartridge: 50 })]

describe('the ceiling with heart disease: 0.04 mg of epinephrine (teaching pages, low authority, READ)', () => {
  // 5 cartridges of 1.7 mL at 1:100,000 are 85 µg. That these words name heart or vessels: COMMON.
  test.each([
    'coronary bypass 2019',
    'pacemaker',
    'atrial fibrillation',
    'high blood pressure 180/110',
    'stent',
    'valve replacement',
    'MI 2020',
    'CABG',
    'stroke last year',
    'aortic stenosis',
    'BP 170/95',
    'heart attack',
    'arhythmia',
  ])('[dose/over-vasoconstrictor] %s', (text) =>
    expect(rules(five, { patient: patient([text]) })).toContain('dose/over-vasoconstrictor'),
  )
  test.each(['takes digoxin', 'Marfan', 'no heart disease', 'never had angina', 'blocked nose today'])(
    '[dose/ceiling-by-history] %s is not taken for a healthy heart: beyond 40 µg the dentist reads it',
    (text) => {
      expect(rules(five, { patient: patient([text]) })).toEqual(['dose/ceiling-by-history'])
      expect(rules([given({ tenthsOfCartridge: 20 })], { patient: patient([text]) })).toEqual([])
    },
  )
  test('a denial that takes itself back names the illness', () => {
    const named = (text: string) => readHeart(patient([text])).isNamed
    expect(named('no angina since the bypass 2019, stent')).toBe(true)
    expect(named('no pain, heart murmur')).toBe(true)
    expect(named('denies chest pain')).toBe(false)
  })
  test('a confirmed history that says nothing is a healthy one', () => expect(rules(five)).toEqual([]))
})

describe('[dose/caution] beside what the history names no figure is printed: the dentist decides', () => {
  // MAO inhibitors, tricyclics: articaine label (READ). Non-selective beta blockers, cocaine: MEMORY. Sedatives: AAPD 2020
  // (READ, abstract). Asthma and sulfite: MEMORY. Methaemoglobin: class warning of the labels (READ).
  test.each([
    ['propranolol', 'beta blocker'],
    ['beta-blocker for migraine', 'beta blocker'],
    ['amitriptyline 25 mg', 'tricyclic'],
    ['phenelzine', 'MAO inhibitor'],
    ['cocaine at the weekend', 'cocaine'],
    ['asthma', 'sulfite'],
    ['midazolam by mouth this morning', 'maximum is lowered'],
    ['methemoglobinemia', 'risk of methaemoglobin'],
  ])('%s', (text, word) => {
    const found = judgeDose(sight([given()], { patient: patient([text]) })).find(
      ({ rule }) => rule === 'dose/caution',
    )
    expect(found && say(found)).toContain(word)
    expect(found && say(found)).toContain('Cannot check')
  })
  test('a plain cartridge concerns none of those that speak of a vasoconstrictor', () =>
    expect(rules([given(PLAIN)], { patient: patient(['propranolol', 'asthma']) })).toEqual([]))
  test('sedation that is booked counts like sedation in the history', () =>
    expect(rules([given(PLAIN)], { sedated: true })).toEqual(['dose/caution']))
  test('what is denied is none', () =>
    expect(rules([given()], { patient: patient(['no asthma']) })).toEqual([]))
})

describe('[dose/other-tooth] tooth, side, work and plan agree (Universal Protocol, READ)', () => {
  const infiltrated = (tooth: Tooth | null, side: Side) => ({
    ...BLOCK,
    technique: 'infiltration' as const,
    tooth,
    side,
  })
  const meaning = (...planned: ReturnType<typeof infiltrated>[]) => ({
    anaesthetic: { ...must(scene().anaesthetic[0], 'one'), planned },
  })
  test.each<[Tooth | null, Side, Tooth[], string[]]>([
    ['46', 'right', ['46'], []],
    ['45', 'right', ['46'], []],
    [null, 'right', ['46'], []],
    ['36', 'right', ['46'], ['dose/other-tooth']],
    ['36', 'left', ['46'], ['dose/other-side']],
    ['16', 'right', ['46'], ['dose/other-tooth']],
    ['21', 'left', ['11'], []],
    ['11', 'left', ['21'], []],
    ['36', 'left', ['36', '46'], []],
    ['55', 'right', ['16'], []],
    ['36', 'right', [], ['dose/other-tooth']],
  ])('%s, %s, for %j: %j', (tooth, side, worked, expected) => {
    const dose = infiltrated(tooth, side)
    expect(rules([], { worked, ...meaning(dose) })).toEqual(expected)
    // What is in already is told as such: it cannot be taken back.
    const isIn = rules([given(dose)], { worked }).filter((rule) => rule !== 'dose/side-unsaid')
    expect(isIn).toEqual(expected.length > 0 ? ['dose/in-elsewhere'] : [])
  })
  test('another tooth than the planned ones', () => {
    const both = { worked: ['36', '46'] as Tooth[], ...meaning(infiltrated('46', 'right')) }
    expect(rules([given({ tooth: '36', side: 'left' })], both)).toContain('dose/in-elsewhere')
    expect(rules([given({ tooth: '45' })], both)).toEqual([])
  })
  test('a plan that contradicts itself is told', () => {
    const rule = ANAESTHESIA_COMMANDS['anaesthetic.plan']
    const planned = [{ ...BLOCK, cartridge: 1700, tooth: '36' }]
    const decision = rule.decide(
      scene(),
      rule.input.parse({ appointmentId: VISITED, planned }),
      context(DENTIST, at(-5)),
    )
    expect(decision.ok && decision.value.findings.map(({ rule: name }) => name)).toContain('dose/other-tooth')
  })
})

interface Answer {
  result: string
  perAgent: { agent: string; limitMicrograms: number; wholeCartridges: number }[]
  findings: { rule: string; level: string }[]
}
const line = (doses: object[], more: object = {}): Answer => {
  const { body, exit } = answerDose({
    profile: 'US-LABEL',
    weight: { value: 70, unit: 'kg' },
    ageYears: 40,
    vasoconstrictorCeiling: 'healthy',
    doses,
    ...more,
  })
  expect(exit).toBe(0)
  return body as Answer
}
const L = {
  agent: 'lidocaine',
  percent: 2,
  vasoconstrictor: 'epinephrine',
  ratio: 100_000,
  cartridgeMl: 1.7,
  cartridges: 1,
}
const P = { agent: 'prilocaine', percent: 4, cartridgeMl: 1.8, cartridges: 1 }
const M = { agent: 'mepivacaine', percent: 3, cartridgeMl: 1.7, cartridges: 1 }
const found = ({ findings }: Answer): string[] => findings.map(({ rule }) => rule)

describe('what hangs on no weight is asked without one', () => {
  const unweighed = (texts: readonly string[], more: Partial<Patient> = {}) => ({
    patient: patient(texts, { weight: null, ...more }),
  })
  const prilocaine = given({ ...PLAIN, agent: 'prilocaine', milliPercent: 4000 })

  // US label, prilocaine 4 %: contraindicated in congenital or idiopathic methaemoglobinaemia (READ).
  test('[dose/barred] a grown-up nobody weighed, or whose age nobody knows', () => {
    expect(rules([prilocaine], unweighed(['methaemoglobinaemia']))).toEqual(['dose/barred'])
    expect(rules([prilocaine], unweighed([]))).toEqual([])
    expect(rules([prilocaine], unweighed(['methaemoglobinaemia'], { born: null }))).toContain('dose/barred')
  })
  test('[dose/bar-unknown] prilocaine, where nobody has said', () =>
    expect(rules([prilocaine], unweighed([], { historyConfirmed: null }))).toEqual(['dose/bar-unknown']))
  // US label, articaine: sulfites are in every cartridge with a catecholamine (READ).
  test('[dose/barred] a sulfite reaction and epinephrine', () => {
    const listed = {
      ...must(scene().allergyRecord[0], 'one'),
      allergies: [{ substance: 'sulfites', certainty: 'confirmed' }],
    } as unknown as DoseSight['allergies']
    expect(rules([given()], { ...unweighed([]), allergies: listed })).toEqual(['dose/barred'])
  })
  test('[dose/solution-unknown] a strength that nobody sells', () =>
    expect(rules([given({ milliPercent: 400 })], unweighed([]))).toEqual(['dose/solution-unknown']))
  test('[dose/age-gate] articaine under four: the weight and the age are asked', () =>
    expect(rules([given(ARTICAINE)], unweighed([], { born: '2024-01-01' as Day }))).toEqual([
      'dose/weight-missing',
      'dose/age-gate',
    ]))
})

describe('what is not known, asked by the command line', () => {
  // Labels: prilocaine is barred in methaemoglobinaemia (READ); unknown, it cannot be checked.
  test('[dose/bar-unknown] prilocaine without a word on methaemoglobinaemia', () => {
    expect(line([P])).toMatchObject({ result: 'cannot-check', perAgent: [] })
    expect(found(line([P]))).toContain('dose/bar-unknown')
    expect(line([P], { contraindications: [] })).toMatchObject({ result: 'within-profile' })
  })
  test('[dose/bar-unsaid] sulfites nobody spoke of are told, and the figures stay', () => {
    const unsaid = line([L])
    expect(found(unsaid)).toEqual(['dose/bar-unsaid'])
    expect(unsaid.perAgent[0]?.limitMicrograms).toBeGreaterThan(0)
    expect(found(line([L], { contraindications: [] }))).toEqual([])
  })
  test('[dose/age-contradicts] four years and thirty months', () => {
    expect(line([L], { ageYears: 4, ageMonths: 30, weight: { value: 15, unit: 'kg' } })).toMatchObject({
      result: 'cannot-check',
      perAgent: [],
    })
    expect(found(line([L], { ageYears: 4, ageMonths: 30 }))).toContain('dose/age-contradicts')
    expect(found(line([L], { ageYears: 4, ageMonths: 59, weight: { value: 15, unit: 'kg' } }))).not.toContain(
      'dose/age-contradicts',
    )
  })
  test('[dose/solution-unknown] a strength that nobody sells', () => {
    const odd = { ...L, agent: 'articaine', percent: 0.4, ratio: 1_000_000, cartridges: 40 }
    expect(line([odd])).toMatchObject({ result: 'cannot-check', perAgent: [] })
    expect(found(line([odd]))).toContain('dose/solution-unknown')
    expect(isSold({ agent: 'bupivacaine', milliPercent: 5000, vasoconstrictor: 'none', ratio: null })).toBe(
      false,
    )
  })
  test('over for anyone is over, whatever the weight', () => {
    // P&G CE547: 0.2 mg of epinephrine (READ); 12 × 17 µg. US label: below 500 mg (READ); 15 × 34 mg.
    const unweighed = { weight: null, contraindications: [] }
    expect(line([{ ...L, cartridges: 12 }], unweighed).result).toBe('over-profile')
    expect(found(line([{ ...L, cartridges: 15, ratio: 100_000 }], unweighed))).toContain('dose/over-maximum')
    expect(line([L], unweighed)).toMatchObject({ result: 'cannot-check', perAgent: [] })
  })
})

describe('children by the label’s own words', () => {
  const fifty = { ageYears: 5, weight: { value: 50, unit: 'lb' }, contraindications: [] }
  // US label, lidocaine: Clark’s rule, 75 to 100 mg at 5 years and 50 lb (READ).
  test('lidocaine under ten: 100 mg, two whole cartridges', () => {
    expect(line([{ ...L, cartridges: 4 }], fifty).result).toBe('over-profile')
    expect(line([{ ...L, cartridges: 2 }], fifty)).toMatchObject({
      result: 'within-profile',
      // 50 lb are floored to 22,679 g, 2 mg/lb of it to 99,997 µg.
      perAgent: [{ wholeCartridges: 2, limitMicrograms: 99_997 }],
    })
  })
  // US label, mepivacaine: table 3 mg/lb; formula pounds ÷ 150 × 400 = 133.3 mg (READ). 2.8 of 51 mg are 142.8 mg.
  test('[dose/over-formula] mepivacaine between formula and table is the dentist’s', () => {
    const by = (cartridges: number) => line([{ ...M, cartridges }], fifty)
    expect(by(2.6).result).toBe('within-profile')
    expect(found(by(2.8))).toContain('dose/over-formula')
    expect(by(2.8).result).toBe('cannot-check')
    expect(by(3).result).toBe('over-profile')
  })
  // US label, prilocaine: children over ten (READ).
  test('[dose/not-for-age] prilocaine at exactly ten', () => {
    const at10 = { ageYears: 10, weight: { value: 35, unit: 'kg' }, contraindications: [] }
    expect(found(line([P], at10))).toContain('dose/not-for-age')
    expect(line([P], { ...at10, ageYears: 11 }).result).toBe('within-profile')
  })
  // US label, articaine: 0.0017 mg/kg, 119 µg at 70 kg (READ); whether other agents’ epinephrine counts is not printed.
  test('[dose/label-ceiling-mixed] epinephrine beside articaine', () => {
    const mixed = [
      { ...L, agent: 'articaine', percent: 4, cartridges: 5 },
      { ...L, ratio: 50_000, cartridges: 2 },
    ]
    const answer = line(mixed, { contraindications: [], combine: 'fractions' })
    expect(answer.findings.find(({ rule }) => rule === 'dose/label-ceiling-mixed')).toMatchObject({
      used: 153_000,
      limit: 119_000,
    })
    expect(answer.result).toBe('cannot-check')
  })
})

describe('laws', () => {
  const solutions = [BLOCK, PLAIN, ARTICAINE] as const
  const doses = fc.array(fc.tuple(fc.constantFrom(...solutions), fc.integer({ min: 1, max: 90 })), {
    minLength: 1,
    maxLength: 3,
  })
  const world = (each: [(typeof solutions)[number], number][]): Dose[] =>
    each.map(([solution, tenthsOfCartridge]) => given({ ...solution, tenthsOfCartridge }))
  /** US labels, plainly: mg/kg with cap, and 0.2 mg of epinephrine (READ); in doubles, with room for their error. */
  const MOST = {
    lidocaine: [7, 500],
    mepivacaine: [3 / 0.453_592_37, 400],
    articaine: [7, Infinity],
  } as const
  const isWithin = (all: Dose[], kilograms: number): boolean => {
    const total = (of: (dose: Dose) => number): number => all.reduce((sum, dose) => sum + of(dose), 0)
    const cartridges = (dose: Dose): number => dose.tenthsOfCartridge / 10
    return (
      total((dose) => (dose.ratio === null ? 0 : 17 * cartridges(dose))) <= 200.001 &&
      (['lidocaine', 'mepivacaine', 'articaine'] as const).every((agent) => {
        const [perKg, cap] = MOST[agent]
        const used = total((dose) =>
          dose.agent === agent ? (dose.milliPercent / 100) * 1.7 * cartridges(dose) : 0,
        )
        return used <= Math.min(perKg * kilograms, cap) + 0.001
      })
    )
  }
  test('where nothing is over or unchecked, a plain reckoning finds the dose within', () => {
    let within = 0
    fc.assert(
      fc.property(doses, fc.integer({ min: 50, max: 120 }), (each, kilograms) => {
        const all = world(each)
        const weight = {
          grams: grams(kilograms * 1000),
          entered: { value: `${kilograms}`, unit: 'kg' as const },
          by: ASSISTANT.id,
          at: at(-8),
        }
        if (judgeDose(sight(all, { patient: patient([], { weight }) })).length > 0) return true
        within += 1
        return isWithin(all, kilograms)
      }),
    )
    expect(within).toBeGreaterThan(5)
  })
  test('a child nobody weighed is never without a question, whatever the agent', () => {
    const all = [BLOCK, PLAIN, ARTICAINE, { ...PLAIN, agent: 'prilocaine', milliPercent: 4000 } as const]
    fc.assert(
      fc.property(fc.constantFrom(...all), fc.integer({ min: 1, max: 17 }), (solution, years) => {
        const child = patient([], { born: `${2026 - years}-01-01` as Day, weight: null })
        return rules([given(solution)], { patient: child }).includes('dose/weight-missing')
      }),
    )
  })
})

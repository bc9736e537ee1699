import { describe, expect, test } from 'vitest'
import type { DoseQuestion } from '#shared/anaesthesia/dose-question.ts'
import { mostAt, VASOCONSTRICTOR_CEILINGS } from '#shared/anaesthesia/limits.ts'
import { agentPerCartridge, tenthsWithin, vasoconstrictorPerCartridge } from '#shared/anaesthesia/solution.ts'
import { grams, gramsOfPounds, microlitres } from '#shared/base/amount.ts'
import {
  ADULT,
  ARTICAINE,
  BUPIVACAINE,
  check,
  dose,
  MEPIVACAINE,
  MILLIGRAM,
  PRILOCAINE,
  rulesOf,
  solution,
} from './checks.ts'
import { FLOAT_TRAPS, VECTORS } from './dose-vectors.ts'
import type { WorkedExample } from './worked-example.ts'
import { PUT, type Put, WORKED } from './worked-examples.ts'

describe('worked examples as printed, and the traps of their rounding', () => {
  const weigh = ({ weight }: WorkedExample) =>
    grams(weight === null ? 1 : 'grams' in weight ? weight.grams : gramsOfPounds(weight.pounds))
  const amountOf = (example: WorkedExample): number =>
    mostAt(
      {
        perKilogram: example.perKg === undefined ? null : Math.round(example.perKg * MILLIGRAM),
        perPound: example.perLb === undefined ? null : Math.round(example.perLb * MILLIGRAM),
        cap: example.cap === undefined ? null : example.cap * MILLIGRAM,
      },
      weigh(example),
    ).amount

  test.each(WORKED)('$id ($source, $mark; it says: $says)', (example) => {
    const { milliPercent, cartridge, ratio = null, ceiling } = example
    const one = solution({ milliPercent, cartridge: microlitres(cartridge), ratio })
    const byDrug = tenthsWithin(amountOf(example), agentPerCartridge(one))
    const byCeiling = ceiling === undefined ? byDrug : tenthsWithin(ceiling, vasoconstrictorPerCartridge(one))
    const tenths = Math.min(byDrug, byCeiling)
    expect({
      tenths,
      whole: Math.floor(tenths / 10),
      limitedBy: byCeiling < byDrug ? 'vasoconstrictor' : 'drug',
    }).toEqual({
      tenths: example.tenths,
      whole: example.whole,
      limitedBy: example.limitedBy,
    })
  })

  /** The most tenths of this cartridge with which nothing is over or asked: what the product itself answers. */
  function mostTenths(put: Put, example: WorkedExample): number {
    const { agent, profile, ageYears, vasoconstrictor = 'epinephrine' } = put
    const ratio = vasoconstrictor === 'none' ? null : (put.ratio ?? example.ratio ?? 100_000)
    const one = {
      agent,
      vasoconstrictor,
      milliPercent: example.milliPercent,
      ratio: vasoconstrictor === 'felypressin' ? null : ratio,
      cartridge: microlitres(example.cartridge),
    }
    const weight = put.kilograms === undefined ? weigh(example) : grams(Math.round(put.kilograms * 1000))
    if (put.byTable) {
      const answer = check([dose(0, one)], { profile, ageYears, weight })
      return answer.perAgent[0]?.tenthsOfCartridges ?? 0
    }
    const isWithin = (tenths: number): boolean =>
      check([dose(tenths, one)], { profile, ageYears, weight }).result === 'within-profile'
    let tenths = 0
    while (isWithin(tenths + 1)) tenths += 1
    return tenths
  }
  test('W1 to W30 are all there; W27 and W29 are told below', () => {
    const numbers = new Set([...WORKED.map(({ id }) => Number.parseInt(id.slice(1), 10)), 27, 29])
    expect([...numbers].sort((a, b) => a - b)).toEqual(Array.from({ length: 30 }, (_, index) => index + 1))
  })
  test('every example is put to the product', () =>
    expect(PUT.map(({ id }) => id).sort()).toEqual(WORKED.map(({ id }) => id).sort()))
  test.each(PUT)('$id by the limits of $profile', (put) => {
    const example = WORKED.find(({ id }) => id === put.id)
    if (!example) throw new Error(`no example ${put.id}`)
    const most = mostTenths(put, example)
    expect(Math.floor(most / 10)).toBe(example.whole)
    if (put.compare !== 'whole') expect(most).toBe(example.tenths)
  })

  test('W27: epinephrine in 1.8 mL at 1:80,000 is 22.5 µg (unsigned slide, READ)', () =>
    expect(vasoconstrictorPerCartridge(solution({ ratio: 80_000, cartridge: microlitres(1800) }))).toBe(
      22_500,
    ))

  // W29: Malamed (MEMORY), DERIVED arithmetic: 45 kg, two lidocaine of 1.8 mL, then articaine: 243 mg left, 3 whole.
  test('W29: 45 kg, two cartridges of lidocaine, then articaine leaves 3 whole', () => {
    const big = { cartridge: microlitres(1800) }
    const answer = check([dose(20, big), dose(0, { ...ARTICAINE, ...big })], {
      ...ADULT,
      weight: grams(45_000),
      profile: 'TEXTBOOK-MFR',
    })
    const articaine = answer.perAgent.find(({ agent }) => agent === 'articaine')
    expect(articaine?.left).toBe(243 * MILLIGRAM)
    expect(articaine?.leftTenthsOfCartridge).toBe(33)
  })

  for (const [agent, { perKg, cap, milliPercent, rows }] of Object.entries(VECTORS)) {
    test.each(rows)(`${agent}: %i g allows %i µg, %i whole cartridges`, (weight, most, whole) => {
      const { amount } = mostAt(
        { perKilogram: Math.round(perKg * MILLIGRAM), perPound: null, cap: cap * MILLIGRAM },
        grams(weight),
      )
      expect(Math.floor(amount / 1000)).toBe(most)
      const tenths = tenthsWithin(amount, agentPerCartridge(solution({ milliPercent, ratio: null })))
      expect(Math.floor(tenths / 10)).toBe(whole)
    })
  }
  // The same vectors by the product's own profile, at an age at which the weight can be and the agent is labelled.
  test.each(
    Object.entries(VECTORS).flatMap(([agent, { milliPercent, rows }]) =>
      rows.map(([weight, most, whole]) => ({ agent, milliPercent, weight, most, whole })),
    ),
  )(
    'AAPD-2023 $agent at $weight g: $most µg, $whole whole',
    ({ agent, milliPercent, weight, most, whole }) => {
      const one = { lidocaine: {}, articaine: ARTICAINE, mepivacaine: MEPIVACAINE, bupivacaine: BUPIVACAINE }[
        agent
      ]
      const ageYears = weight < 15_000 ? 3 : weight < 30_000 ? 7 : 16
      const [row] = check([dose(0, { ...one, milliPercent })], { weight: grams(weight), ageYears }).perAgent
      expect(row && { most: Math.floor(row.limit / 1000), whole: row.wholeCartridges }).toEqual({
        most,
        whole,
      })
    },
  )
  test.each(FLOAT_TRAPS)(
    '%f mg/kg, %i, %i µL at %i g: %i tenths, no double between',
    (perKg, milliPercent, cartridge, weight, tenths) => {
      const { amount } = mostAt(
        { perKilogram: Math.round(perKg * MILLIGRAM), perPound: null, cap: null },
        grams(weight),
      )
      expect(
        tenthsWithin(
          amount,
          agentPerCartridge(solution({ milliPercent, cartridge: microlitres(cartridge) })),
        ),
      ).toBe(tenths)
    },
  )

  // Adult label vectors (DERIVED from US labels and P&G CE547): grams, whole cartridges, what binds.
  test.each([
    [50_000, 10, 'weight'],
    [60_000, 11, 'vasoconstrictor'],
    [80_000, 11, 'vasoconstrictor'],
  ] as const)('lidocaine label, 1:100,000, %i g: %i whole by %s', (weight, whole, limitedBy) => {
    expect(check([dose(0)], { ...ADULT, weight: grams(weight) }).perAgent[0]).toMatchObject({
      wholeCartridges: whole,
      limitedBy,
    })
  })
  // The same of mepivacaine 3 % in 1.7 mL and of prilocaine 4 % in 1.8 mL (DERIVED from the textbook's 6.6/400 and 8/600).
  test.each([
    [60_000, 396, 7, MEPIVACAINE, 1700],
    [80_000, 400, 7, MEPIVACAINE, 1700],
    [60_000, 480, 6, PRILOCAINE, 1800],
    [75_000, 600, 8, PRILOCAINE, 1800],
  ] as const)(
    'textbook, %i g: %i mg, %i whole cartridges of %j in %i µL',
    (weight, most, whole, agent, volume) => {
      const doses = [dose(0, { ...agent, cartridge: microlitres(volume) })]
      const [row] = check(doses, { ...ADULT, profile: 'TEXTBOOK-MFR', weight: grams(weight) }).perAgent
      expect(row).toMatchObject({ limit: most * MILLIGRAM, wholeCartridges: whole })
    },
  )
  // Levonordefrin 1:20,000 within 1.0 mg (P&G CE547, table 3, READ; the counts DERIVED).
  test.each([
    [1700, 11],
    [1800, 11],
    [2200, 9],
  ])('levonordefrin in %i µL: %i within 1 mg', (cartridge, whole) => {
    const per = vasoconstrictorPerCartridge(
      solution({ vasoconstrictor: 'levonordefrin', ratio: 20_000, cartridge: microlitres(cartridge) }),
    )
    expect(Math.floor(tenthsWithin(VASOCONSTRICTOR_CEILINGS.levonordefrin.healthy.value, per) / 10)).toBe(
      whole,
    )
  })
  // Whole cartridges by vasoconstrictor alone (DERIVED; the 11 and 22 agree with the CE magazine article, READ).
  test.each([
    [50_000, 1700, 1, 5],
    [50_000, 1800, 1, 5],
    [50_000, 2200, 0, 4],
    [80_000, 1700, 1, 9],
    [80_000, 1800, 1, 8],
    [80_000, 2200, 1, 7],
    [100_000, 1700, 2, 11],
    [100_000, 1800, 2, 11],
    [100_000, 2200, 1, 9],
    [200_000, 1700, 4, 23],
    [200_000, 1800, 4, 22],
    [200_000, 2200, 3, 18],
  ])('1:%i in %i µL: %i within 0.04 mg, %i within 0.2 mg', (ratio, cartridge, cardiac, healthy) => {
    const per = vasoconstrictorPerCartridge(solution({ ratio, cartridge: microlitres(cartridge) }))
    expect([40_000, 200_000].map((most) => Math.floor(tenthsWithin(most, per) / 10))).toEqual([
      cardiac,
      healthy,
    ])
  })
})

describe('over, and what it says', () => {
  test('[dose/over-maximum] a tenth beyond the maximum is over; up to it is within', () => {
    expect(check([dose(19)]).result).toBe('within-profile')
    const over = check([dose(20)])
    expect(over.result).toBe('over-profile')
    expect(over.findings.at(-1)).toMatchObject({
      rule: 'dose/over-maximum',
      used: 68 * MILLIGRAM,
      limit: 66 * MILLIGRAM,
    })
  })
  test('[dose/over-maximum] two givers and two agents count together, both named', () => {
    const both = [dose(10, { by: 'hygienist' }), dose(10, { ...MEPIVACAINE, by: 'dentist' })]
    expect(check(both).findings.find(({ rule }) => rule === 'dose/over-maximum')).toMatchObject({
      agent: 'together',
      by: ['hygienist', 'dentist'],
    })
  })
  test('[dose/over-vasoconstrictor] epinephrine of all agents counts against one ceiling', () => {
    expect(rulesOf([dose(24, { ratio: 50_000 })], { ...ADULT, ceiling: 'cardiac' })).toEqual([
      'dose/over-vasoconstrictor',
    ])
    expect(rulesOf([dose(71, ARTICAINE)], ADULT)).toContain('dose/over-vasoconstrictor')
    expect(rulesOf([dose(70, ARTICAINE)], ADULT)).toEqual([])
  })
  test('what is used is rounded up, what is left rounded down', () => {
    // 15 kg: 34 of 66 mg are 51.515 %.
    expect(check([dose(10)])).toMatchObject({
      usedPermille: 516,
      perAgent: [{ left: 32 * MILLIGRAM, leftTenthsOfCartridge: 9 }],
    })
  })
})

describe('cannot check: the dentist decides', () => {
  test('[dose/weight-missing] without a weight nothing is worked out, and no weight is taken from an age', () => {
    expect(check([dose(1)], { weight: null })).toMatchObject({ result: 'cannot-check', perAgent: [] })
    expect(rulesOf([dose(1)], { weight: null })).toEqual(['dose/weight-missing'])
  })
  test('[dose/weight-implausible] a weight that can hardly be this child’s is asked', () =>
    expect(rulesOf([dose(1)], { weight: grams(33_000) })).toEqual(['dose/weight-implausible']))
  test('[dose/age-unknown] no age, and under a year no months, leave it unchecked', () => {
    expect(rulesOf([dose(1)], { ageYears: null })).toEqual(['dose/age-unknown'])
    expect(rulesOf([dose(1)], { ageYears: 0, weight: grams(8000) })).toEqual(['dose/age-unknown'])
  })
  test('AAPD: under six months every maximum is lowered by 30 % (MEMORY)', () => {
    const at = (ageMonths: number) =>
      check([dose(0)], { ageYears: 0, ageMonths, weight: grams(7000) }).perAgent[0]?.limit
    expect(at(6)).toBe(30.8 * MILLIGRAM)
    expect(at(5)).toBe(21.56 * MILLIGRAM)
  })
  test('[dose/no-profile] no profile chosen', () =>
    expect(rulesOf([dose(1)], { profile: null })).toEqual(['dose/no-profile']))
  test('[dose/no-row] a profile that prints nothing for the agent', () =>
    expect(rulesOf([dose(1, BUPIVACAINE)], { ...ADULT, profile: 'CE-547' })).toEqual(['dose/no-row']))
  test('[dose/not-for-age] a grown-ups’ profile says nothing of a child', () =>
    expect(rulesOf([dose(1)], { profile: 'AUS-OLDER' })).toEqual(['dose/not-for-age']))
  test('[dose/row-not-confirmed] the AAPD’s prilocaine row waits for a dentist', () =>
    expect(rulesOf([dose(1, PRILOCAINE)])).toEqual(['dose/row-not-confirmed']))
  test('[dose/age-gate] articaine under four years and bupivacaine under twelve, whatever the weight', () => {
    expect(rulesOf([dose(1, ARTICAINE)], { ageYears: 3, weight: grams(14_000) })).toEqual(['dose/age-gate'])
    expect(rulesOf([dose(1, ARTICAINE)], { ageYears: 4 })).toEqual([])
    expect(rulesOf([dose(1, BUPIVACAINE)], { ageYears: 7, weight: grams(20_000) })).toEqual(['dose/age-gate'])
  })
  test('[dose/barred] sulfites in a cartridge with epinephrine, prilocaine in methaemoglobinaemia', () => {
    expect(rulesOf([dose(1)], { bars: ['sulfite'] })).toEqual(['dose/barred'])
    expect(rulesOf([dose(1, MEPIVACAINE)], { bars: ['sulfite'] })).toEqual([])
    expect(rulesOf([dose(1, PRILOCAINE)], { ...ADULT, bars: ['methaemoglobinaemia'] })).toEqual([
      'dose/barred',
    ])
  })
  test('[dose/cartridge-unknown] no volume, or epinephrine of no strength', () => {
    expect(rulesOf([dose(1, { cartridge: microlitres(0) })])).toEqual(['dose/cartridge-unknown'])
    expect(rulesOf([dose(1, { ratio: null })])).toEqual(['dose/cartridge-unknown'])
  })
  test('[dose/ceiling-unknown] a grown-up’s heart not asked after', () =>
    expect(rulesOf([dose(1)], { ...ADULT, ceiling: 'unknown' })).toEqual(['dose/ceiling-unknown']))
  test('[dose/no-child-ceiling] the adult ceiling is not used for a child, and that is said', () =>
    expect(check([dose(1)]).findings.map(({ rule }) => rule)).toEqual(['dose/no-child-ceiling']))
  test('[dose/long-acting-mixed] a long-acting block beside another agent is for the dentist', () => {
    const both = [dose(5), dose(5, BUPIVACAINE)]
    expect(rulesOf(both, { ...ADULT, profile: 'TEXTBOOK-MFR' })).toEqual(['dose/long-acting-mixed'])
  })
})

describe('agents together', () => {
  // 20 kg, AAPD: one lidocaine, then articaine. The two rules disagree (DERIVED, exception MEMORY).
  const both = [dose(10), dose(0, ARTICAINE)]
  const twenty = { weight: grams(20_000), ageYears: 7 }
  const leftOf = (combine: DoseQuestion['combine']) =>
    check(both, { ...twenty, combine }).perAgent.find(({ agent }) => agent === 'articaine')
  test('the lower of two leaves 54 mg, the fractions 85.9 mg', () => {
    expect(leftOf('lower-of-two')).toMatchObject({ left: 54 * MILLIGRAM, leftTenthsOfCartridge: 7 })
    expect(leftOf('fractions')?.leftTenthsOfCartridge).toBe(12)
    expect(Math.floor((leftOf('fractions')?.left ?? 0) / 100_000)).toBe(859)
  })
})

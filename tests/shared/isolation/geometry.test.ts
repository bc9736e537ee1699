import { describe, expect, test } from 'vitest'
import { placeTeeth } from '#shared/isolation/arch.ts'
import { isInsideIsoHole, isInsideIsoLength, judgePunch } from '#shared/isolation/holes.ts'
import { FIELD_POLICY_IDS, type FieldPolicyId } from '#shared/isolation/isolation-facts.ts'
import { DEFAULT_PLACING } from '#shared/isolation/placing-policy.ts'
import { edgeGap, isSlitLength, judgeSepta, type Septum } from '#shared/isolation/sheet.ts'
import { DEFAULT_SPACING, GRADE_MM, PUBLISHED_SPACINGS } from '#shared/isolation/sheet-policy.ts'
import { isThirdMolar, LOWER_PERMANENT, TEETH, type Tooth, UPPER_PERMANENT } from '#shared/teeth/tooth.ts'
import { type Asked, asksOf, planned, rulesOf } from './asking.ts'

const septum = (edgeMm: number, centreMm = edgeMm + 2, naturalMm = centreMm): Septum => ({
  teeth: ['46', '45'],
  centreMm,
  edgeMm,
  naturalMm,
  declared: 'none',
})
const sheetOf = (asked: Asked) => planned(asked).sheets[0]
const holeOf = (asked: Asked, tooth: Tooth) => sheetOf(asked)?.holes.find((hole) => hole.tooth === tooth)

describe('geometry checks', () => {
  /** y: restatement of Sturdevant, teaching notes READ; x: Wheeler widths MEMORY. */
  test('G-1 upper centrals lie 25 mm below the top edge and 4.5 mm beside the middle, 4.25 at natural distance', () => {
    const asked: Asked = {
      teeth: '11 M, 21 M',
      policy: 'ASSIST_ANT',
      rest: { sheet: { widthMm: 150, heightMm: 150 } },
    }
    for (const [tooth, side] of [
      ['11', -1],
      ['21', 1],
    ] as const) {
      const hole = holeOf(asked, tooth)
      expect(Math.abs((hole?.xMm ?? 0) - (75 + side * 4.5))).toBeLessThanOrEqual(0.1)
      expect(Math.abs((hole?.yMm ?? 0) - 25)).toBeLessThanOrEqual(0.3)
    }
    const places = placeTeeth(UPPER_PERMANENT, 'upper')
    expect(places.get('11')?.arc).toBe(-4.25)
    expect(places.get('21')?.arc).toBe(4.25)
  })

  /** Restatement of Sturdevant, study cards READ; the last in mm MEMORY. */
  test.each([
    ['thin', 0.15],
    ['medium', 0.2],
    ['heavy', 0.25],
    ['extra-heavy', 0.3],
    ['special-heavy', 0.35],
  ] as const)('G-2 a %s sheet is %d mm', (grade, mm) => {
    expect(GRADE_MM[grade].value).toBe(mm)
  })

  /** Arithmetic, COMMON. */
  test('G-3 centres 6.3 mm apart with holes of 2.0 leave 4.3 mm of rubber', () => {
    expect(edgeGap(6.3, 2, 2)).toBeCloseTo(4.3, 9)
  })

  /** Davis p 190, McGehee p 107: 2–4 mm, READ. */
  test('G-4 [sheet/septum-narrow] 1.5 mm of rubber is refused', () => {
    expect(judgeSepta([septum(1.5)])).toMatchObject([
      { rule: 'sheet/septum-narrow', level: 'stop', mm: 1.5, measure: 'edge-to-edge' },
    ])
    expect(judgeSepta([septum(2)])).toEqual([])
  })

  /** Gold-foil academy sheet READ. */
  test('G-5 3.5 mm of rubber is as it should be', () => expect(judgeSepta([septum(3.5)])).toEqual([]))

  /** JADA slit article READ. */
  test.each([
    [12, true],
    [10, true],
    [15, true],
    [8, false],
    [18, false],
  ])('G-6 [sheet/slit-length] end holes of a slit %d mm apart', (mm, isUsual) => {
    expect(isSlitLength(mm)).toBe(isUsual)
    const findings = judgeSepta([{ ...septum(mm - 2, mm), declared: 'slit' }])
    expect(findings.map(({ rule }) => rule)).toEqual(isUsual ? [] : ['sheet/slit-length'])
  })

  /** Black p 71 READ; the amount COMMON. */
  test('G-7 lower incisors are punched a little farther apart than the teeth, and that needs no note', () => {
    const plan = planned({ teeth: '31 M', policy: 'STURDEVANT_WIDE' })
    const incisors = plan.sheets[0]?.septa.filter(({ teeth }) =>
      teeth.every((tooth) => '12'.includes(tooth.charAt(1))),
    )
    expect(incisors).toHaveLength(3)
    for (const { centreMm, naturalMm } of incisors ?? []) expect(centreMm).toBeGreaterThan(naturalMm)
    expect(rulesOf(plan)).toEqual([])
  })

  /** Teaching notes READ; size Sturdevant MEMORY. */
  test('G-8 the hole of a class V tooth moves 1 mm to the face and is one size up', () => {
    const asked: Asked = { teeth: '23 V', kind: 'cervical-composite', policy: 'STURDEVANT_WIDE' }
    const moved = holeOf(asked, '23')
    const usual = holeOf({ teeth: '23 D', policy: 'STURDEVANT_WIDE' }, '23')
    const shift = Math.hypot((moved?.xMm ?? 0) - (usual?.xMm ?? 0), (moved?.yMm ?? 0) - (usual?.yMm ?? 0))
    expect(Math.abs(shift - 1)).toBeLessThan(0.1)
    expect(moved?.xMm).toBeGreaterThan(usual?.xMm ?? Number.NaN)
    expect(moved?.yMm).toBeLessThan(usual?.yMm ?? Number.NaN)
    expect((moved?.size ?? 0) - (usual?.size ?? 0)).toBe(1)
  })

  /** Arithmetic on Wheeler widths, COMMON. */
  test('G-9 the septum over a lost 26 is 18 mm along the arch, declared, and no fold', () => {
    const plan = planned({ teeth: '25 MO', policy: 'LIMITED_1D2M', mouth: { 26: ['missing'] } })
    const gap = plan.sheets[0]?.septa.find(({ teeth }) => teeth.includes('27'))
    expect(gap?.naturalMm).toBeCloseTo(18, 9)
    expect(gap?.declared).toBe('gap')
    expect(rulesOf(plan)).toEqual([])
  })

  /** ISO 16635-1:2013, overview READ. */
  test('G-10 [punch/outside-iso] a hole of 3.0 mm is outside 0.5 to 2.6', () => {
    expect([0.5, 2.6, 3, 0.4].map(isInsideIsoHole)).toEqual([true, true, false, false])
    expect(judgePunch({ lengthMm: 165, plateMicrometres: [3000] })).toMatchObject([
      { rule: 'punch/outside-iso', mm: 3 },
    ])
  })
  test('G-11 a punch of 158 mm is outside 165 ± 5', () => {
    expect([158, 160, 165, 170, 171].map(isInsideIsoLength)).toEqual([false, true, true, true, false])
    expect(judgePunch({ lengthMm: 158, plateMicrometres: [] })).toMatchObject([{ what: 'length', mm: 158 }])
  })
})

describe('every policy, tooth and sheet', () => {
  const WORKED = TEETH.filter((tooth) => !isThirdMolar(tooth))
  const SHEETS = [125, 150]

  test.each(FIELD_POLICY_IDS)('%s: all holes lie well inside 125 and 150 mm and never overlap', (policy) => {
    for (const tooth of WORKED) for (const edge of SHEETS) expectFit({ policy, tooth, edge })
  })

  test('third molars too, where they stand', () => {
    const mouth = {
      18: ['present'],
      28: ['present'],
      38: ['present'],
      48: ['present'],
    } satisfies Asked['mouth']
    for (const policy of FIELD_POLICY_IDS) {
      for (const tooth of ['18', '28', '38', '48'] as const) {
        for (const edge of SHEETS) expectFit({ policy, tooth, edge, mouth })
      }
    }
  })

  test.each(PUBLISHED_SPACINGS.map(({ value }) => [value.words, value.spacing] as const))(
    'holes %s fit as well, without a warning',
    (_, wanted) => {
      const clinic = { spacing: { ...DEFAULT_SPACING.value, wanted } }
      for (const policy of FIELD_POLICY_IDS) {
        for (const tooth of WORKED) for (const edge of SHEETS) expectFit({ policy, tooth, edge, clinic })
      }
    },
  )

  test('lower front teeth two inches up fit as well, without a warning', () => {
    const clinic = { placing: { ...DEFAULT_PLACING.value, lowerFrontMm: 50 as const } }
    for (const policy of FIELD_POLICY_IDS) {
      for (const tooth of WORKED) for (const edge of SHEETS) expectFit({ policy, tooth, edge, clinic })
    }
  })

  interface Fit extends Pick<Asked, 'mouth' | 'clinic'> {
    policy: FieldPolicyId
    tooth: Tooth
    edge: number
  }
  function expectFit({ policy, tooth, edge, mouth = {}, clinic = {} }: Fit): void {
    const sheet = { widthMm: edge, heightMm: edge }
    const plan = planned({ teeth: tooth, policy, mouth, clinic, rest: { sheet } })
    const name = `${policy} ${tooth} ${edge}`
    expect(plan.sheets.length, name).toBe(1)
    const holes = plan.sheets[0]?.holes ?? []
    for (const { xMm, yMm } of holes) {
      expect(Math.min(xMm, yMm, edge - xMm, edge - yMm), name).toBeGreaterThan(20)
    }
    for (const { edgeMm } of plan.sheets[0]?.septa ?? []) expect(edgeMm, name).toBeGreaterThan(2)
    expect(
      rulesOf(plan).filter((rule) => rule.startsWith('sheet/')),
      name,
    ).toEqual([])
  }

  test('a full, regular mouth under the clinic’s own policies has no question and no warning', () => {
    for (const kind of ['direct-composite', 'root-canal', 'resin-sealant', 'bonded-indirect'] as const) {
      for (const tooth of [...UPPER_PERMANENT, ...LOWER_PERMANENT].filter((one) => !isThirdMolar(one))) {
        const plan = planned({ kind, teeth: `${tooth} MO`, clinic: { anchorHole: 'class-plus-one' } })
        expect(asksOf(plan), `${kind} ${tooth}`).toEqual([])
        expect(rulesOf(plan).filter((rule) => /^(sheet|punch)\//.test(rule))).toEqual([])
        expect(plan.state).toBe('planned')
      }
    }
  })

  /** Single-tooth method page READ; mirror check of the trade. */
  test('a single hole stands in the tooth’s own quadrant, patient’s right on the viewer’s left', () => {
    for (const tooth of WORKED.filter((one) => Number(one[0]) <= 4)) {
      const hole = holeOf({ kind: 'root-canal', teeth: tooth }, tooth)
      const quadrant = Number(tooth[0])
      const [dx, dy] = [(hole?.xMm ?? 75) - 75, (hole?.yMm ?? 75) - 75]
      expect(quadrant === 1 || quadrant === 4 ? -dx : dx, tooth).toBeGreaterThan(0)
      expect(quadrant <= 2 ? -dy : dy, tooth).toBeGreaterThanOrEqual(0)
    }
  })

  test('a lower first molar alone stands at half height, 25.9 mm beside the middle', () => {
    expect(holeOf({ kind: 'root-canal', teeth: '36' }, '36')).toMatchObject({ xMm: 100.9, yMm: 75 })
  })

  test('lower incisors keep 40 mm to the bottom of a 150 mm sheet and 30 of a 125 mm one', () => {
    for (const [edge, keep] of [
      [150, 40],
      [125, 30],
    ] as const) {
      for (const tooth of ['47', '48'] as const) {
        const mouth = { 48: ['present'] } satisfies Asked['mouth']
        const asked: Asked = { teeth: `${tooth} D`, policy: 'STURDEVANT_WIDE', mouth }
        const hole = holeOf({ ...asked, rest: { sheet: { widthMm: edge, heightMm: edge } } }, '41')
        expect(edge - (hole?.yMm ?? 0)).toBeGreaterThanOrEqual(keep)
      }
    }
  })
})

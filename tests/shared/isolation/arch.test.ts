import { describe, expect, test } from 'vitest'
import { boltonRatios, CROWN_WIDTHS, placeTeeth, pointAt } from '#shared/isolation/arch.ts'
import { LOWER_PERMANENT, UPPER_PERMANENT } from '#shared/teeth/tooth.ts'

/** Bolton 1958: means READ (restated), deviations MEMORY. */
test('the widths in use agree with Bolton: 77.2 ± 1.65 and 91.3 ± 1.91 percent', () => {
  const { anterior, overall } = boltonRatios()
  expect(Math.abs(anterior - 77.2)).toBeLessThan(1.65)
  expect(Math.abs(overall - 91.3)).toBeLessThan(1.91)
})

/** Wheeler widths summed (MEMORY; sums computed). */
test.each([
  ['upper', 6, 93],
  ['upper', 7, 111],
  ['lower', 6, 85],
  ['lower', 7, 106],
] as const)('%s widths to place %i and back sum to %d mm', (arch, places, sum) => {
  const half = CROWN_WIDTHS.permanent[arch].value.slice(0, places).reduce((total, width) => total + width, 0)
  expect(2 * half).toBeCloseTo(sum, 6)
})

/** Half the sum of two crown widths (MEMORY widths, arithmetic COMMON). */
describe('centre to centre at natural distance', () => {
  test.each([
    ['upper', UPPER_PERMANENT, [8.5, 7.5, 7, 7.25, 7, 8.5, 9.5, 8.75]],
    ['lower', LOWER_PERMANENT, [5, 5.25, 6.25, 7, 7, 9, 10.75, 10.25]],
  ] as const)('%s permanent row', (arch, row, pairs) => {
    const places = placeTeeth(row, arch)
    const left = row.slice(8)
    const centres = [row[7], ...left].map((tooth) => (tooth ? (places.get(tooth)?.arc ?? 0) : 0))
    expect(centres.slice(1).map((arc, place) => arc - (centres[place] ?? 0))).toEqual(pairs)
  })
})

/**
 * Tooth centres of the fitted sextic arch with Wheeler's widths, [x, y] in mm, places 1 to 7 of one side
 * (curve READ: Noroozi et al., Angle Orthod 2001;71:386–389; constants and centres computed by another program).
 */
const CENTRES = {
  upper: [
    [4.24, 0.2],
    [11.59, 1.63],
    [17.7, 4.94],
    [22.05, 10.69],
    [24.7, 17.16],
    [26.91, 25.36],
    [28.72, 34.69],
  ],
  lower: [
    [2.5, 0.11],
    [7.65, 1.05],
    [13.42, 3.41],
    [18.82, 7.82],
    [22.62, 13.67],
    [25.85, 22.06],
    [28.46, 32.49],
  ],
} as const

describe.each(['upper', 'lower'] as const)('%s tooth centres lie on the fitted arch', (arch) => {
  const row = arch === 'upper' ? UPPER_PERMANENT : LOWER_PERMANENT
  const places = placeTeeth(row, arch)
  test.each(CENTRES[arch].map((centre, place) => [place + 1, centre] as const))(
    'place %i',
    (place, [x, y]) => {
      const tooth = row[7 + place]
      const point = pointAt({ arch, scale: 1 }, tooth ? (places.get(tooth)?.arc ?? 0) : 0)
      expect(point.x).toBeCloseTo(x, 1)
      expect(point.y).toBeCloseTo(y, 1)
    },
  )
})

/** Class I casts, n = 76, mean and SD in mm (READ). */
test.each([
  ['upper', 3, 35.41, 1.47],
  ['upper', 6, 53.82, 2.82],
  ['lower', 3, 26.85, 1.59],
  ['lower', 6, 51.71, 2.6],
] as const)('%s places %i lie %d mm apart within 2 SD', (arch, place, mean, sd) => {
  const row = arch === 'upper' ? UPPER_PERMANENT : LOWER_PERMANENT
  const tooth = row[7 + place]
  const arc = tooth ? (placeTeeth(row, arch).get(tooth)?.arc ?? 0) : 0
  expect(Math.abs(2 * pointAt({ arch, scale: 1 }, arc).x - mean)).toBeLessThan(2 * sd)
})

test('the curve is walked by arc length: 37 mm along it is 37 mm of small steps', () => {
  const curve = { arch: 'lower', scale: 1 } as const
  let length = 0
  let before = pointAt(curve, 0)
  for (let arc = 0.05; arc <= 37.001; arc += 0.05) {
    const point = pointAt(curve, arc)
    length += Math.hypot(point.x - before.x, point.y - before.y)
    before = point
  }
  expect(length).toBeCloseTo(37, 1)
})

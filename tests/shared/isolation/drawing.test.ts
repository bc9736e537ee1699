import { describe, expect, test } from 'vitest'
import { drawSheet, handedness, type Picture } from '#shared/isolation/drawing.ts'
import { FIELD_POLICY_IDS } from '#shared/isolation/isolation-facts.ts'
import { touchesBox, touchesDisc } from '#shared/isolation/labels.ts'
import { isThirdMolar, TEETH } from '#shared/teeth/tooth.ts'
import { type Asked, planned } from './asking.ts'

const WORKED = TEETH.filter((tooth) => !isThirdMolar(tooth))
const picturesOf = (asked: Asked) => {
  const [sheet] = planned(asked).sheets
  if (!sheet) throw new Error('no sheet')
  return { facing: drawSheet(sheet, HOW.facing), behind: drawSheet(sheet, HOW.behind), sheet }
}
const HOW = {
  facing: { view: 'facing', notation: 'iso' },
  behind: { view: 'behind', notation: 'iso' },
} as const

describe('labels', () => {
  test.each(FIELD_POLICY_IDS)(
    '%s: none touches a hole, another label or the edge, none is left out',
    (policy) => {
      for (const tooth of WORKED) {
        const { facing, behind } = picturesOf({ teeth: tooth, policy })
        for (const [name, picture] of Object.entries({
          whole: facing.whole,
          field: facing.field,
          'whole behind': behind.whole,
          'field behind': behind.field,
        })) {
          expectApart(picture, `${policy} ${tooth} ${name}`)
        }
      }
    },
  )

  function expectApart({ labels, holes, widthMm, heightMm }: Picture, name: string): void {
    expect(labels.filter(({ kind }) => kind === 'tooth').length, name).toBe(holes.length)
    for (const [place, label] of labels.entries()) {
      const touched = holes.filter((hole) => touchesDisc(label, hole)).map(({ tooth }) => tooth)
      expect(touched, `${name}: ${label.text}`).toEqual([])
      const other = labels.slice(place + 1).filter((one) => touchesBox(label, one))
      expect(
        other.map(({ text }) => text),
        `${name}: ${label.text}`,
      ).toEqual([])
      expect(label.x - label.w / 2, name).toBeGreaterThan(0)
      expect(label.x + label.w / 2, name).toBeLessThan(widthMm)
      expect(label.y - label.h / 2, name).toBeGreaterThan(0)
      expect(label.y + label.h / 2, name).toBeLessThan(heightMm)
    }
  }
})

/** Geometry COMMON. */
describe('case 21: turned by half a turn, never mirrored', () => {
  test.each(['46', '16', '26', '36'] as const)('%s keeps its hand in both views', (tooth) => {
    const { facing, behind, sheet } = picturesOf({ kind: 'root-canal', teeth: tooth })
    expect(Math.abs(handedness(facing.whole))).toBeGreaterThan(1)
    expect(Math.sign(handedness(behind.whole))).toBe(Math.sign(handedness(facing.whole)))
    const [a, b] = [facing.whole.holes[0], behind.whole.holes[0]]
    expect((a?.x ?? 0) + (b?.x ?? 0)).toBeCloseTo(sheet.widthMm, 6)
    expect((a?.y ?? 0) + (b?.y ?? 0)).toBeCloseTo(sheet.heightMm, 6)
  })

  test('facing the patient: nose edge on top, the patient’s right on the left, the mark at that corner', () => {
    const { facing, behind } = picturesOf({ teeth: '46 MO' })
    const at = (picture: typeof facing, text: string) =>
      picture.whole.labels.find((label) => label.text === text)
    expect(at(facing, 'nose edge')?.y).toBeLessThan(at(facing, 'chin')?.y ?? Number.NaN)
    expect(at(facing, "patient's right")?.x).toBeLessThan(at(facing, "patient's left")?.x ?? Number.NaN)
    expect(at(behind, 'nose edge')?.y).toBeGreaterThan(at(behind, 'chin')?.y ?? Number.NaN)
    expect(facing.whole.corner.every(({ x, y }) => x < 75 && y < 75)).toBe(true)
  })
})

test('holes are in true size and place, the magnified field in one scale', () => {
  const { facing, sheet } = picturesOf({ teeth: '46 MO' })
  expect(facing.whole.holes.map(({ x, y, r }) => [x, y, r])).toEqual(
    sheet.holes.map(({ xMm, yMm, diameterMm }) => [xMm, yMm, diameterMm / 2]),
  )
  const [a, b] = facing.field.holes
  const [c, d] = facing.whole.holes
  const apart = (p = { x: 0, y: 0 }, q = { x: 0, y: 0 }): number => Math.hypot(p.x - q.x, p.y - q.y)
  expect(apart(a, b)).toBeCloseTo(apart(c, d) * facing.field.scale, 6)
})

test('the bow lies to the back: above the hole of a lower molar, below that of an upper one', () => {
  const bowOf = (tooth: '46' | '16') => {
    const { facing } = picturesOf({ kind: 'root-canal', teeth: tooth })
    const numbers = [...(facing.whole.clamps[0]?.path ?? '').matchAll(/-?[\d.]+ (-?[\d.]+)/g)].map(([, y]) =>
      Number(y),
    )
    return numbers.reduce((sum, y) => sum + y, 0) / numbers.length - (facing.whole.holes[0]?.y ?? 0)
  }
  expect(bowOf('46')).toBeLessThan(-1)
  expect(bowOf('16')).toBeGreaterThan(1)
})

test('a whole arch names every hole once', () => {
  const { facing } = picturesOf({ teeth: '16 MO', policy: 'FULL_ARCH' })
  const names = facing.field.labels.filter(({ kind }) => kind === 'tooth').map(({ text }) => text)
  expect(new Set(names).size).toBe(14)
  expect(facing.field.labels.filter(({ kind }) => kind === 'distance')).toHaveLength(13)
})

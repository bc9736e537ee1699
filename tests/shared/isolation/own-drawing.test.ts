import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { AgreedSheet } from '#shared/isolation/isolation-facts.ts'
import { compareDrawing, isSameDrawing } from '#shared/isolation/own-drawing.ts'
import { LOWER_PERMANENT, type Tooth } from '#shared/teeth/tooth.ts'

const sheet = (field: Tooth[], anchor: Tooth, sizes: number[]): AgreedSheet => ({
  field,
  anchor,
  clamps: [{ tooth: anchor, family: 'MOLAR_W_PASSIVE', role: 'anchor' }],
  holes: field.map((tooth, index) => ({ tooth, size: sizes[index] ?? 3 })),
  slit: [],
})
const quadrant = sheet(['46', '45', '44'], '46', [5, 3, 3])

test('case 90 what a student left out, added, clamped elsewhere and punched otherwise, each by tooth', () => {
  const drawn = {
    field: ['45', '44', '43'] as Tooth[],
    clamped: ['45'] as Tooth[],
    holes: [
      { tooth: '45' as const, size: 4 },
      { tooth: '44' as const, size: 3 },
      { tooth: '43' as const, size: 2 },
    ],
  }
  const difference = compareDrawing(drawn, { sheets: [quadrant] })
  expect(difference).toEqual({
    field: { left: ['46'], more: ['43'] },
    clamped: { left: ['46'], more: ['45'] },
    holes: [{ tooth: '45', drawn: 4, planned: 3 }],
  })
  expect(isSameDrawing(difference)).toBe(false)
})

test('case 90 two sheets are one question to the student: which teeth', () => {
  const upper = sheet(['16', '15'], '16', [5, 3])
  const drawn = {
    field: ['15', '16', '46', '45', '44'] as Tooth[],
    clamped: ['16', '46'] as Tooth[],
    holes: [],
  }
  expect(isSameDrawing(compareDrawing(drawn, { sheets: [quadrant, upper] }))).toBe(true)
})

test('drawn as planned there is no difference, in whatever order, and leaving one tooth out is always seen', () => {
  const fields = fc.uniqueArray(fc.constantFrom(...LOWER_PERMANENT), { minLength: 1, maxLength: 10 })
  fc.assert(
    fc.property(fields, fc.nat(), (field, pick) => {
      const anchor = field[pick % field.length] as Tooth
      const planned = sheet(
        field,
        anchor,
        field.map((_, index) => 1 + (index % 5)),
      )
      const drawn = { field: [...field].reverse(), clamped: [anchor], holes: [...planned.holes].reverse() }
      expect(isSameDrawing(compareDrawing(drawn, { sheets: [planned] }))).toBe(true)
      const less = { ...drawn, field: field.filter((tooth) => tooth !== anchor) }
      expect(compareDrawing(less, { sheets: [planned] }).field).toEqual({ left: [anchor], more: [] })
    }),
    { numRuns: 1_000 },
  )
})

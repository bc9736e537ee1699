import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { NOTATIONS, type Notation } from '#shared/teeth/notation-names.ts'
import { parseTeeth } from '#shared/teeth/parse-teeth.ts'

const read = (text: string, notation: Notation) => {
  const { result, teeth } = parseTeeth(text, notation)
  return `${result} ${[...teeth].sort().join(' ')}`.trim()
}

/** Ways of speaking of those who count from the midline (COMMON): what each notation makes of them. */
type Row = [text: string, iso: string, universal: string]
const MIDLINE: Row[] = [
  ['upper 2-2', 'tooth 11 12 21 22', 'tooth 11 12 21 22'],
  ['upper 3-3', 'tooth 11 12 13 21 22 23', 'tooth 11 12 13 21 22 23'],
  ['3-3 upper', 'tooth 11 12 13 21 22 23', 'tooth 11 12 13 21 22 23'],
  ['lower 3 to 3', 'tooth 31 32 33 41 42 43', 'tooth 31 32 33 41 42 43'],
  ['bonded retainer lower 3–3', 'tooth 31 32 33 41 42 43', 'tooth 31 32 33 41 42 43'],
  ['1-1', 'ask 11 21 31 41', 'ask 11 21 31 41'],
  ['2-2', 'ask 11 12 21 22 31 32 41 42', 'ask 11 12 21 22 31 32 41 42'],
  ['UR 3-3', 'ask 13', 'ask 13'],
  ['#3-#5', 'ask 14 15 16', 'tooth 14 15 16'],
  ['all 4 sixes', 'tooth 16 26 36 46', 'ask 16 26 36 46'],
  ['all four 6s', 'tooth 16 26 36 46', 'ask 16 26 36 46'],
  ['upper 6s', 'tooth 16 26', 'ask 16 26'],
  ['impacted upper 3’s', 'tooth 13 23', 'ask 13 23'],
  ['sealants 6s', 'ask 16 26 36 46', 'ask 16 26 36 46'],
  ['lower Es', 'tooth 75 85', 'ask 75 85'],
  ['upper ones', 'tooth 11 21', 'ask 11 21'],
  ['extract all four 5s for ortho', 'tooth 15 25 35 45', 'ask 15 25 35 45'],
  ['all 6s except 26', 'ask 16 26 36 46', 'ask 16 26 36 42 46'],
]
const NAMES: Row[] = [
  ['all first molars', 'tooth 16 26 36 46', 'tooth 16 26 36 46'],
  ['first molars', 'ask 16 26 36 46', 'ask 16 26 36 46'],
  ['upper first molars', 'tooth 16 26', 'tooth 16 26'],
  ['two upper central incisors', 'tooth 11 21', 'tooth 11 21'],
  ['lower second primary molars', 'tooth 75 85', 'tooth 75 85'],
  ['upper incisors', 'ask 11 12 21 22', 'ask 11 12 21 22'],
  ['both centrals', 'ask 11 21 31 41', 'ask 11 21 31 41'],
  ['wisdom teeth', 'ask 18 28 38 48', 'ask 18 28 38 48'],
  ['4 wisdom teeth', 'ask 18 28 38 48', 'ask 18 28 38 48'],
  ['all wisdom teeth', 'tooth 18 28 38 48', 'tooth 18 28 38 48'],
  ['upper left molars', 'ask 26 27 28', 'ask 26 27 28'],
]
const QUADRANTS: Row[] = [
  ['quadrant 1', 'none', 'none'],
  ['quad 3 scaling', 'none', 'none'],
  ['quadrants 1 and 2', 'none', 'none'],
  ['sextant 4', 'none', 'none'],
  ['Q4 6', 'tooth 46', 'ask 13 46'],
  ['Q1 6, 7', 'tooth 16 17', 'ask 12 13 16 17'],
  ['UR E', 'tooth 55', 'ask 51 55'], // case 6: both are legal
  ['UR 6', 'tooth 16', 'ask 13 16'],
  ['ur 6', 'tooth 16', 'ask 13 16'],
  ['upper right six', 'tooth 16', 'ask 13 16'],
  ['LL 6', 'tooth 36', 'ask 13 36'],
  ['UR6', 'tooth 16', 'tooth 16'],
  ['#3 upper right', 'ask 16', 'tooth 16'],
  ['3 (upper right first molar)', 'ask 13 16', 'tooth 16'],
  ['UR16', 'tooth 16', 'ask 16 18 28'],
  ['UR45', 'ask 14 15 45', 'ask 14 15 45'], // the fourth and the fifth, or a number of another quadrant
]
const RANGES: Row[] = [
  ...['14 thru 16', '14 till 16', '14 until 16', '14−16', '14–16', '14—16', '14 ‑ 16', '14->16', '14…16'].map(
    (text): Row => [text, 'tooth 14 15 16', 'tooth 26 27 28'],
  ),
  ['filling 11/26', 'tooth 11 26', 'tooth 23 42'],
  ['14 or 15', 'ask 14 15', 'ask 26 27'],
  ['14 not 15', 'ask 14 15', 'ask 26 27'],
  ['between 14 and 16', 'ask 14 16', 'ask 26 28'],
]
const COUNTS: Row[] = [
  ['RCT x 36', 'ask 36', 'ask 36'],
  ['RCT x36', 'ask 36', 'ask 36'],
  ['fillings x3: 14 15', 'tooth 14 15', 'tooth 26 27'],
  ['veneers x 10', 'ask 22', 'ask 22'],
  ['t36', 'tooth 36', 'ask 36'],
  ['36mo', 'ask 36', 'ask 36'],
  ['36 mo old', 'none', 'none'],
  ['the ones that hurt', 'none', 'none'],
  ['As discussed', 'none', 'none'],
]
describe('teeth as people write them', () => {
  test.each([...MIDLINE, ...NAMES, ...QUADRANTS, ...RANGES, ...COUNTS])(
    '“%s”: %s by ISO, %s by Universal',
    (text, iso, universal) => {
      expect(read(text, 'iso')).toBe(iso)
      expect(read(text, 'universal')).toBe(universal)
    },
  )
  it('from one side to the other is the whole front between, or an ask, in every notation', () => {
    const arch = fc.constantFrom('upper', 'lower', 'maxillary', 'mandibular')
    fc.assert(
      fc.property(arch, fc.integer({ min: 1, max: 8 }), fc.constantFrom(...NOTATIONS), (row, n, notation) => {
        const { result, teeth } = parseTeeth(`${row} ${n}-${n}`, notation)
        expect(teeth).toHaveLength(2 * n)
        expect(result).toBe(n < 6 ? 'tooth' : 'ask')
      }),
    )
  })
  it('a surface is a letter said once, and no word', () => {
    const surfaces = (text: string) => parseTeeth(text, 'iso').mentions[0]?.surfaces
    expect(surfaces('36 DO NOT use latex')).toEqual([])
    expect(surfaces('36 FILL')).toEqual([])
    expect(surfaces('36 OLD crown')).toEqual([])
    expect(surfaces('36 DO comp')).toEqual(['D', 'O'])
    expect(surfaces('11 MIDFL')).toEqual(['M', 'I', 'D', 'B', 'L'])
  })
  it('the words of a naming are shown as they were written', () => {
    expect(parseTeeth('comp 14−16, upper 6’s', 'iso').mentions.map(({ text }) => text)).toEqual([
      '14−16',
      '6’s',
    ])
  })
})

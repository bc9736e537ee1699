import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { makePalmer, makeUniversal, nameTooth } from '#shared/teeth/notation.ts'
import { NOTATIONS, type Notation } from '#shared/teeth/notation-names.ts'
import { parseTeeth } from '#shared/teeth/parse-teeth.ts'
import { TEETH } from '#shared/teeth/tooth.ts'

const read = (text: string, notation: Notation) => {
  const { result, teeth } = parseTeeth(text, notation)
  return `${result} ${teeth.join(' ')}`.trim()
}

describe('a clinic that has said how it counts', () => {
  test.each<[string, Notation, string]>([
    ['16 26 36 46', 'iso', 'tooth 16 26 36 46'],
    ['16, 17/26 & 27', 'iso', 'tooth 16 17 26 27'],
    ['#19', 'universal', 'tooth 36'],
    ['teeth 3, 14, 19, 30', 'universal', 'tooth 16 26 36 46'],
    ['pulpotomy K', 'universal', 'tooth 75'],
    ['sealants A J K T', 'universal', 'tooth 55 65 75 85'],
    ['UR 6', 'palmer', 'tooth 16'],
    ['upper right 4, 5', 'palmer', 'tooth 14 15'],
    ['lower left 6', 'iso', 'tooth 36'],
    ['3.6 root canal', 'iso', 'tooth 36'],
    ['46MOD, 47 O', 'iso', 'tooth 46 47'],
  ])('“%s” in %s: %s', (text, notation, answer) => expect(read(text, notation)).toBe(answer))

  test('[tooth/ambiguous] a number that the clinic’s own notation does not know is asked, never translated', () => {
    expect(read('19', 'iso')).toBe('ask 36')
    expect(read('46', 'universal')).toBe('ask 46')
    expect(read('E', 'palmer')).toBe('ask 51 55 65 75 85')
  })
  test('[tooth/words-contradict] words that contradict the number ask under any notation', () => {
    expect(read('36 upper left', 'iso')).toBe('ask 36 26')
    expect(read('lower left 6', 'universal')).toBe('ask 13 36')
    expect(read('UR4 upper left', 'palmer')).toMatch(/^ask/)
  })
})

describe('no notation is known', () => {
  test.each([
    ['31', 'ask 31 47'],
    ['16 26', 'ask 16 28 26 42'],
    ['36', 'tooth 36'],
    ['#19', 'tooth 36'],
    ['K', 'ask 75'],
    ['#5', 'tooth 14'],
    ['#3 and #14', 'ask 16 14 26'],
    ['5', 'ask 14 15 25 35 45'],
    ['16 (upper right first molar)', 'tooth 16'],
    ['45-46-47', 'tooth 45 46 47'],
    ['UR8-UL8', 'ask 18 17 16 15 14 13 12 11 21 22 23 24 25 26 27 28'],
    ['UR6', 'tooth 16'],
    ['URE', 'tooth 55'],
    ['UR E', 'ask 51 55'],
    ['31, lower right second molar', 'tooth 47'],
    ['ISO 31', 'tooth 31'],
    ['Universal 31', 'tooth 47'],
    ['31 (FDI)', 'tooth 31'],
    ['46 (#30)', 'tooth 46'],
    ['6⏌ and ⎾E', 'tooth 16 75'],
    ['lower right second primary molar', 'tooth 85'],
    ['upper left first molar and 46', 'tooth 26 46'],
  ])('“%s”: %s', (text, answer) => expect(read(text, 'ask')).toBe(answer))
})

describe('words beside a tooth do not swallow it', () => {
  test.each([
    ['16 26 36 46 sealants', 'tooth 16 26 36 46'],
    ['14 24 extractions', 'tooth 14 24'],
    ['36 crowns', 'tooth 36'],
    ['apical surgery 12', 'tooth 12'],
    ['36 x-ray', 'tooth 36'],
    ['36 root canal', 'tooth 36'],
    ['46 implants', 'tooth 46'],
    ['clamp 37, fill 35', 'tooth 37 35'],
  ])('“%s”: %s', (text, answer) => expect(read(text, 'iso')).toBe(answer))
  test('a list in Universal keeps its single digits', () =>
    expect(read('14, 3 extractions', 'universal')).toBe('tooth 26 16'))
})

describe('a date or a list of teeth', () => {
  test.each([
    ['36/37/38', 'tooth 36 37 38'],
    ['comp 46, last seen 24/11/26', 'ask 46 24 11 26'],
    ['13/12/11', 'ask 13 12 11'],
    ['comp 46 on 24/11/2026', 'tooth 46'],
    ['comp 46, 2026-11-24', 'tooth 46'],
  ])('“%s”: %s', (text, answer) => expect(read(text, 'iso')).toBe(answer))
})

describe('ranges, with care', () => {
  test.each<[string, Notation, string]>([
    ['13-23', 'iso', 'tooth 13 12 11 21 22 23'],
    ['33 to 36', 'iso', 'tooth 33 34 35 36'],
    ['#6-#11', 'universal', 'tooth 13 12 11 21 22 23'],
    ['UR4-6', 'palmer', 'tooth 14 15 16'],
    ['UR3-UL3', 'ask', 'tooth 13 12 11 21 22 23'],
    ['13-23', 'ask', 'ask 13 12 11 21 22 23'],
    ['16-18?', 'iso', 'ask 16 17 18'],
  ])('“%s” in %s: %s', (text, notation, answer) => expect(read(text, notation)).toBe(answer))
  test('from molar to molar round the front is asked', () =>
    expect(read('16-26', 'iso')).toMatch(/^ask 16 15/))
})

describe('numbers that are no teeth', () => {
  test.each([
    'at 10:30',
    '1.7 mL of 2% at 16:45',
    'age 12',
    '5-year-old',
    '16 years',
    '3 fillings',
    '24/11/2026',
    'class 2',
    'visit 2 of 3',
    'stage 2',
    'room 12',
    '45 min',
    '15 mg, 22 mm',
    'shade A2',
    'Dr K',
    'A broken tooth',
    'broken tooth UR, pain',
    'last tooth upper left',
    'tel 01234',
    '18 mo',
  ])('“%s”', (text) => {
    for (const notation of NOTATIONS) expect(parseTeeth(text, notation).teeth).toEqual([])
  })
  test('they do not hide the tooth beside them', () => {
    expect(read('at 10:30, 1.7 mL, age 12, filling 36, stage 2', 'iso')).toBe('tooth 36')
    expect(read('5-year-old, 3 fillings, 85 DO 84 MO', 'iso')).toBe('tooth 85 84')
  })
  test('a number that is no tooth anywhere is told as none', () => {
    expect(parseTeeth('tooth 99', 'iso')).toMatchObject({ result: 'none', mentions: [{ result: 'none' }] })
  })
})

describe('laws of reading', () => {
  const tooth = fc.constantFrom(...TEETH)
  test('each tooth in its own notation, and in its own words, is read back', () => {
    for (const each of TEETH) {
      expect(read(each, 'iso')).toBe(`tooth ${each}`)
      expect(read(makeUniversal(each), 'universal')).toBe(`tooth ${each}`)
      expect(read(makePalmer(each), 'palmer')).toBe(`tooth ${each}`)
      expect(read(nameTooth(each), 'ask')).toBe(`tooth ${each}`)
    }
  })
  test('number and agreeing words never ask', () => {
    fc.assert(fc.property(tooth, (each) => read(`${each} ${nameTooth(each)}`, 'iso') === `tooth ${each}`))
  })
  test('number and another tooth’s words never make a clear tooth', () => {
    fc.assert(
      fc.property(tooth, tooth, (number, words) => {
        fc.pre(number !== words)
        return parseTeeth(`${number} ${nameTooth(words)}`, 'iso').result !== 'tooth' || agrees(number, words)
      }),
    )
  })
  test('any text is read without a throw, and asks only with candidates', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 40 }), fc.constantFrom(...NOTATIONS), (text, notation) =>
        parseTeeth(text, notation).mentions.every(
          ({ result, teeth }) => (result === 'none') === (teeth.length === 0),
        ),
      ),
    )
  })
  /** A primary molar is a first molar too where the words do not say primary. */
  const agrees = (number: string, words: string) =>
    nameTooth(TEETH.find((each) => each === number) ?? '11').replace('primary ', '') ===
    nameTooth(TEETH.find((each) => each === words) ?? '11')
})

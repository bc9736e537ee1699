import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { findNamings } from '#shared/teeth/namings.ts'
import { blankNotTeeth } from '#shared/teeth/not-teeth.ts'
import { makePalmer, nameTooth } from '#shared/teeth/notation.ts'
import { NOTATIONS, type Notation } from '#shared/teeth/notation-names.ts'
import { parseTeeth } from '#shared/teeth/parse-teeth.ts'
import { plainSigns } from '#shared/teeth/pieces.ts'
import { TEETH, type Tooth } from '#shared/teeth/tooth.ts'

/**
 * Teeth as day lists have them: what each means was written down before it was read. The notations are ISO 3950 and
 * Universal (READ, as in notation.test.ts); the habits of writing are COMMON. What is not sure is asked.
 */
const ROWS: [text: string, iso: string, universal: string][] = [
  ['comp 19 mo', 'ask 36', 'ask 36'],
  ['comp 18 do, 19 mo', 'ask 18 36', 'ask 36 37'],
  ['recall 6 mo', 'none', 'none'],
  ['6 mo check', 'none', 'none'],
  ['fit molar bands', 'none', 'none'],
  ['RCT 14 1/2', 'ask 11 12 14 17 18 21 22 31 32 41 42', 'ask 17 18 26'],
  ['upper pre-molars', 'ask 14 15 24 25', 'ask 14 15 24 25'],
  ['36b', 'tooth 36', 'ask 36'],
  ['36 b', 'tooth 36', 'ask 36'],
  ['36o', 'tooth 36', 'ask 36'],
  ['36 o', 'tooth 36', 'ask 36'],
  ['36 mod', 'tooth 36', 'ask 36'],
  ['URDE', 'tooth 54 55', 'tooth 54 55'],
  ['UR D', 'tooth 54', 'ask 52 54'],
  ['UR DE', 'tooth 54 55', 'ask 51 52 54 55'],
  ['UL 123', 'tooth 21 22 23', 'tooth 21 22 23'],
  ['UL123', 'tooth 21 22 23', 'tooth 21 22 23'],
  ['UL1-3', 'tooth 21 22 23', 'tooth 21 22 23'],
  ['UR6-8', 'tooth 16 17 18', 'tooth 16 17 18'],
  ['UR 6-8', 'tooth 16 17 18', 'ask 11 12 13 16 17 18'],
  ['UR1-UL3', 'tooth 11 21 22 23', 'tooth 11 21 22 23'],
  ['Q46', 'ask 46', 'ask 46'],
  ['Q4-6', 'tooth 46', 'ask 13 46'],
  ['14x16', 'ask 14 15 16', 'ask 26 27 28'],
  ['14-x-16', 'ask 14 15 16', 'ask 26 27 28'],
  ['14X16 bridge', 'ask 14 15 16', 'ask 26 27 28'],
  ['bridge 14-16', 'tooth 14 15 16', 'tooth 26 27 28'],
  ['14-16', 'tooth 14 15 16', 'tooth 26 27 28'],
  ['eye tooth', 'ask 13 23 33 43', 'ask 13 23 33 43'],
  ['upper left eye tooth', 'tooth 23', 'tooth 23'],
  ['#3,4', 'ask 14 15 16 24 34 44', 'tooth 15 16'],
  ['#3, #4', 'ask 15 16', 'tooth 15 16'],
  ['#3 & 4', 'ask 14 15 16 24 34 44', 'tooth 15 16'],
  ['tooth 4 on upper right', 'tooth 14', 'ask 14 15'],
  ['tooth 4 upper right', 'tooth 14', 'ask 14 15'],
  ['lower left 6s', 'tooth 36', 'ask 36'],
  ['6s', 'ask 16 26 36 46', 'ask 16 26 36 46'],
  ['all sixes', 'tooth 16 26 36 46', 'ask 16 26 36 46'],
  ['quad 3', 'none', 'none'],
  ['LL quad', 'none', 'none'],
  ['16/26', 'tooth 16 26', 'tooth 28 42'],
  ['1.6', 'tooth 16', 'ask 16'],
  ['2-6', 'ask 12 13 14 15 16 17 22 23 24 25 26 32 33 34 35 36 42 43 44 45 46', 'tooth 13 14 15 16 17'],
  [
    '1-6',
    'ask 11 12 13 14 15 16 17 18 21 22 23 24 25 26 31 32 33 34 35 36 41 42 43 44 45 46',
    'tooth 13 14 15 16 17 18',
  ],
  ['4-6', 'ask 13 14 15 16 24 25 26 34 35 36 44 45 46', 'tooth 13 14 15'],
  ['4 6', 'ask 13 14 15 16 24 26 34 36 44 46', 'tooth 13 15'],
  ['1626', 'ask 16 26', 'ask 16 26'],
  ['16,26,36,46', 'tooth 16 26 36 46', 'ask 28 36 42 46'],
  ['16.26.36', 'tooth 16 26 36', 'ask 28 36 42'],
  ['16;26', 'tooth 16 26', 'tooth 28 42'],
  ['16+26', 'tooth 16 26', 'tooth 28 42'],
  ['16&26', 'tooth 16 26', 'tooth 28 42'],
  ['16and26', 'ask 16 26', 'ask 28 42'],
  ['16 to 18', 'tooth 16 17 18', 'ask 16 17 18'],
  ['16~18', 'tooth 16 17 18', 'ask 16 17 18'],
  ['tooth16', 'tooth 16', 'tooth 28'],
  ['T16', 'tooth 16', 'tooth 28'],
  ['t. 16', 'tooth 16', 'tooth 28'],
  ['th 16', 'tooth 16', 'tooth 28'],
  ['#36', 'tooth 36', 'ask 36'],
  ['no 36', 'tooth 36', 'ask 36'],
  ['no. 36', 'tooth 36', 'ask 36'],
  ['nr 36', 'tooth 36', 'ask 36'],
  ['n°36', 'tooth 36', 'ask 36'],
  ['№36', 'tooth 36', 'ask 36'],
  ['Zahn 36', 'tooth 36', 'ask 36'],
  ['dent 36', 'tooth 36', 'ask 36'],
  ['UR-6', 'tooth 16', 'tooth 16'],
  ['UR.6', 'tooth 16', 'ask 13 16'],
  ['UR/6', 'tooth 16', 'ask 13 16'],
  ['UR:6', 'tooth 16', 'ask 13 16'],
  ['U/R 6', 'ask 16', 'ask 13 16'],
  ['U/R6', 'ask 16', 'ask 13 16'],
  ['u/r 6', 'ask 16', 'ask 13 16'],
  ['L/L6', 'ask 36', 'ask 36'],
  ['R upper 6', 'ask 13 16 26 36 46 53 63 83', 'ask 13 53 63 83'],
  ['up right 6', 'ask 13 16 43 46', 'ask 13 16 43 46'],
  ['6 UR', 'tooth 16', 'ask 13 16'],
  ['6UR', 'tooth 16', 'ask 13 16'],
  ['6 upper right', 'tooth 16', 'ask 13 16'],
  ['ur6', 'tooth 16', 'tooth 16'],
  ['Ur6', 'tooth 16', 'tooth 16'],
  ['uR6', 'tooth 16', 'tooth 16'],
  ['ll7', 'tooth 37', 'tooth 37'],
  ['lrE', 'tooth 85', 'tooth 85'],
  ['lre', 'ask 85', 'ask 85'],
  ['ure', 'ask 55', 'ask 55'],
  ['urD', 'tooth 54', 'tooth 54'],
  ['UL de', 'ask 64 65', 'ask 64 65'],
  ['UL6,7', 'tooth 26 27', 'tooth 26 27'],
  ['UL 6,7', 'tooth 26 27', 'ask 12 13 26 27'],
  ['UL6&7', 'tooth 26 27', 'tooth 26 27'],
  ['UL67', 'tooth 26 27', 'tooth 26 27'],
  ['UL6/7', 'tooth 26 27', 'tooth 26 27'],
  ['UL6 + UR6', 'tooth 16 26', 'tooth 16 26'],
  ['UL6 UR6', 'tooth 16 26', 'tooth 16 26'],
  ['U6s', 'ask 16 26 36 46', 'ask 16 26 36 46'],
  ['L6s', 'ask 16 26 36 46', 'ask 16 26 36 46'],
  ['upper 6s and lower 6s', 'tooth 16 26 36 46', 'ask 16 26 36 46'],
  ['UR6 LL6', 'tooth 16 36', 'tooth 16 36'],
  ['6/6', 'ask 16 26 36 46', 'ask 16 26 36 46'],
  ['6|6', 'ask 16 26 36 46', 'ask 16 26 36 46'],
  ['E|E', 'ask 55 65 75 85', 'ask 55 65 75 85'],
  ['Es', 'ask 55 65 75 85', 'ask 55 65 75 85'],
  ['all Es', 'tooth 55 65 75 85', 'ask 55 65 75 85'],
  ['upper Ds', 'tooth 54 64', 'ask 54 64'],
  ["lower D's", 'tooth 74 84', 'ask 74 84'],
  ['lower E’s', 'tooth 75 85', 'ask 75 85'],
  ["6's", 'ask 16 26 36 46', 'ask 16 26 36 46'],
  ['sixes', 'ask 16 26 36 46', 'ask 16 26 36 46'],
  ['both 6s', 'ask 16 26 36 46', 'ask 16 26 36 46'],
  ['upper 6', 'ask 13 16 23 26', 'ask 13 16 23 26'],
  ['left 6', 'ask 13 23 26 33 36', 'ask 13 23 26 33 36'],
  ['six', 'none', 'none'],
  ['UR six', 'tooth 16', 'ask 13 16'],
  ['premolar UL', 'ask 24 25', 'ask 24 25'],
  ['upper left premolar', 'ask 24 25', 'ask 24 25'],
  ['lower right molar', 'ask 46 47 48', 'ask 46 47 48'],
  ['front tooth', 'ask 11 12 13 21 22 23 31 32 33 41 42 43', 'ask 11 12 13 21 22 23 31 32 33 41 42 43'],
  ['front teeth', 'ask 11 12 13 21 22 23 31 32 33 41 42 43', 'ask 11 12 13 21 22 23 31 32 33 41 42 43'],
  ['upper front teeth', 'ask 11 12 13 21 22 23', 'ask 11 12 13 21 22 23'],
  ['two front teeth', 'ask 11 12 13 21 22 23 31 32 33 41 42 43', 'ask 11 12 13 21 22 23 31 32 33 41 42 43'],
  ['wisdom tooth', 'ask 18 28 38 48', 'ask 18 28 38 48'],
  ['LR wisdom tooth', 'tooth 48', 'tooth 48'],
  ['lower wisdoms', 'tooth 38 48', 'tooth 38 48'],
  ['8s', 'ask 18 28 38 48', 'ask 18 28 38 48'],
  ['lower 8s', 'tooth 38 48', 'ask 38 48'],
  ['LR8', 'tooth 48', 'tooth 48'],
  ['molar tooth', 'ask 16 17 18 26 27 28 36 37 38 46 47 48', 'ask 16 17 18 26 27 28 36 37 38 46 47 48'],
  ['baby tooth', 'none', 'none'],
  ['back tooth', 'none', 'none'],
  ['UL baby molar', 'ask 64 65', 'ask 64 65'],
  ['upper right central', 'tooth 11', 'tooth 11'],
  ['UR central', 'tooth 11', 'tooth 11'],
  ['UR lat', 'none', 'none'],
  ['upper laterals', 'tooth 12 22', 'tooth 12 22'],
  ['UL canine', 'tooth 23', 'tooth 23'],
  ['UL 3', 'tooth 23', 'ask 16 23'],
  ['upper canine', 'ask 13 23', 'ask 13 23'],
  ['canine', 'ask 13 23 33 43', 'ask 13 23 33 43'],
  ['2nd molar LL', 'tooth 37', 'tooth 37'],
  ['LL second molar', 'tooth 37', 'tooth 37'],
  ['LL 2nd premolar', 'tooth 35', 'tooth 35'],
  ['lower left 2nd primary molar', 'tooth 75', 'tooth 75'],
  ['lower left E', 'tooth 75', 'ask 51 75'],
  ['E lower left', 'tooth 75', 'ask 51 75'],
  ['tooth E', 'ask 51 55 65 75 85', 'tooth 51'],
  ['tooth A', 'ask 51 55 61 71 81', 'tooth 55'],
  ['#A', 'ask 55', 'tooth 55'],
  ['#A,B', 'ask 52 54 55 62 72 82', 'tooth 54 55'],
  ['A,B,I,J', 'ask 51 52 54 55 61 62 64 65 71 72 81 82', 'tooth 54 55 64 65'],
  ['A-J', 'ask 51 52 53 54 55 61 62 63 64 65', 'tooth 51 52 53 54 55 61 62 63 64 65'],
  ['36 37', 'tooth 36 37', 'ask 36 37'],
  ['36-37', 'tooth 36 37', 'ask 36 37'],
  ['36–37', 'tooth 36 37', 'ask 36 37'],
  ['37-36', 'tooth 36 37', 'ask 36 37'],
  ['36/7', 'ask 12 17 27 36 37 47', 'ask 12 36'],
  ['36,7', 'ask 12 17 27 36 37 47', 'ask 12 36'],
  ['46/7', 'ask 12 17 27 37 46 47', 'ask 12 46'],
  ['36-8', 'ask 11 36', 'ask 11 36'],
  ['36 & 7', 'ask 12 17 27 36 37 47', 'ask 12 36'],
  ['99', 'none', 'none'],
  ['tooth 99', 'none', 'none'],
  ['49', 'none', 'none'],
  ['46 49', 'tooth 46', 'ask 46'],
  ['PA36', 'ask 36', 'ask 36'],
  ['BW 36', 'tooth 36', 'ask 36'],
  ['36PFM', 'tooth 36', 'ask 36'],
  ['36pfm', 'ask 36', 'ask 36'],
  ['36RCT', 'ask 36', 'ask 36'],
  ['RCT36', 'ask 36', 'ask 36'],
  ['comp36', 'ask 36', 'ask 36'],
  ['comp36MO', 'ask 36', 'ask 36'],
  ['36comp', 'ask 36', 'ask 36'],
  ['#19DO', 'ask 36', 'tooth 36'],
  ['36-DO', 'tooth 36', 'ask 36'],
  ['36:DO', 'tooth 36', 'ask 36'],
  ['36(DO)', 'tooth 36', 'ask 36'],
  ['36/DO', 'tooth 36', 'ask 36'],
  ['36 D/O', 'tooth 36', 'ask 36'],
  ['36 M,O', 'tooth 36', 'ask 36'],
  ['36_MO', 'tooth 36', 'ask 36'],
  ['36*', 'tooth 36', 'ask 36'],
  ['36!', 'tooth 36', 'ask 36'],
  ['(36)', 'tooth 36', 'ask 36'],
  ['[36]', 'tooth 36', 'ask 36'],
  ['"36"', 'tooth 36', 'ask 36'],
  ['36.', 'tooth 36', 'ask 36'],
  ['36,', 'tooth 36', 'ask 36'],
  ['3 6', 'ask 13 16 23 26 33 36 43 46', 'tooth 13 16'],
  ['３６', 'tooth 36', 'ask 36'],
  ['45M', 'ask 45', 'ask 45'],
  ['36F', 'ask 36', 'ask 36'],
  ['45 yo M, 36 DO', 'tooth 36', 'ask 36'],
  ['36 x2', 'tooth 36', 'ask 36'],
  ['2x 36', 'tooth 36', 'ask 36'],
  ['36 (2 canals)', 'tooth 36', 'ask 36'],
  ['36 2nd visit', 'tooth 36', 'ask 36'],
  ['RCT 36 1/2', 'ask 11 12 17 18 21 22 31 32 36 41 42', 'ask 17 18 36'],
  ['RCT 36 2/3', 'ask 12 13 16 17 22 23 32 33 36 42 43', 'ask 16 17 36'],
  ['RCT 36 (1 of 2)', 'tooth 36', 'ask 36'],
]

const read = (text: string, notation: Notation) => {
  const { result, teeth } = parseTeeth(text, notation)
  return `${result} ${[...teeth].sort().join(' ')}`.trim()
}

describe('teeth as they are typed', () => {
  test.each(ROWS)('“%s”: %s by ISO, %s by Universal', (text, iso, universal) => {
    expect(read(text, 'iso')).toBe(iso)
    expect(read(text, 'universal')).toBe(universal)
  })
})

describe('nothing is passed over', () => {
  test.each([
    ['comp 46, 49', ['49']],
    ['comp 46 and q9', ['q9']],
    ['tooth 99', ['tooth 99']],
    ['sealants 5 and 36', []],
    ['comp 46 at 10:30, 2 fillings, 45 min, shade A2', []],
    ['D2392 46', []],
    ['quad 3 scaling', []],
  ])('“%s” leaves %j unread by ISO', (text, unread) => expect(parseTeeth(text, 'iso').unread).toEqual(unread))
  it('a number of one or two digits is in a naming, is told as unread, or is known to be something else', () => {
    const piece = fc.oneof(
      fc.constantFrom(...ROWS.map(([text]) => text)),
      fc.integer({ min: 0, max: 99 }).map(String),
      fc.constantFrom(
        'comp',
        'x',
        '-',
        '/',
        ' ',
        ', ',
        'MO',
        'UR',
        '#',
        '.',
        'rct',
        '10:30',
        '3 mm',
        '?',
        'and',
      ),
    )
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 6 }), fc.constantFrom(...NOTATIONS), (all, notation) => {
        const text = all.join(' ')
        const { unread } = parseTeeth(text, notation)
        const left = blankNotTeeth(plainSigns(text))
        const namings = findNamings(text)
        for (const { 0: digits, index } of left.matchAll(/(?<!\d)\d{1,2}(?!\d)/g)) {
          const isNamed = namings.some((each) => each.at <= index && index < each.at + each.text.length)
          expect(isNamed || unread.some((words) => words.includes(digits)), `${digits} in “${text}”`).toBe(
            true,
          )
        }
      }),
      { numRuns: 2000 },
    )
  })
  it('of two teeth, however each is written and whatever joins them, none is lost', () => {
    const style = fc.constantFrom<(tooth: Tooth) => string>(
      (tooth) => tooth,
      (tooth) => `#${tooth}`,
      (tooth) => `tooth ${tooth}`,
      (tooth) => `${tooth} MO`,
      (tooth) => `${tooth}do`,
      (tooth) => `${tooth}b`,
      (tooth) => `rct${tooth}`,
      (tooth) => `${tooth}comp`,
      (tooth) => `${tooth}?`,
      makePalmer,
      (tooth) => makePalmer(tooth).toLowerCase(),
      (tooth) => `${makePalmer(tooth).slice(0, 2)} ${makePalmer(tooth).slice(2)}`,
      (tooth) => `${makePalmer(tooth).slice(0, 2)}/${makePalmer(tooth).slice(2)}`,
      nameTooth,
    )
    const joint = fc.constantFrom(
      ...[
        ', ',
        ' ',
        ' & ',
        ' / ',
        ' + ',
        ' and ',
        '; ',
        ' or ',
        ' not ',
        ' then ',
        '. ',
        '\n',
        ' x ',
        ' with ',
      ],
    )
    const tooth = fc.constantFrom(...TEETH)
    fc.assert(
      fc.property(tooth, tooth, style, style, joint, (one, other, say, sayOther, between) => {
        // “upper right canine, 53” names one tooth
        fc.pre(nameTooth(one).replace('primary ', '') !== nameTooth(other).replace('primary ', ''))
        const text = `comp ${say(one)}${between}${sayOther(other)}`
        const { teeth, unread } = parseTeeth(text, 'iso')
        for (const each of [one, other])
          expect(teeth.includes(each) || unread.length > 0, `${each} in “${text}”`).toBe(true)
      }),
      { numRuns: 5000 },
    )
  })
})

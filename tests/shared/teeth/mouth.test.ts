import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { eruptionOf, isDue } from '#shared/teeth/eruption.ts'
import { findLookAlikes } from '#shared/teeth/look-alike.ts'
import { mouthFrom, mouthOf } from '#shared/teeth/mouth.ts'
import { TOOTH_CONDITIONS } from '#shared/teeth/mouth-chart.ts'
import { crossesMidline, spanBetween } from '#shared/teeth/span.ts'
import { archOf, sideOf, TEETH, UPPER_PERMANENT } from '#shared/teeth/tooth.ts'

const row = (teeth: readonly string[]) => teeth.join(' ')

describe('a charted mouth', () => {
  test('{} is a grown-up’s full mouth but for the third molars', () => {
    const mouth = mouthFrom({}, { ageYears: 34 })
    expect(row(mouth.standingRow('lower'))).toBe('47 46 45 44 43 42 41 31 32 33 34 35 36 37')
    expect(mouth.assumed).toEqual([])
  })
  test('third molars stand where they are charted', () => {
    const mouth = mouthFrom({ '38': ['present'] }, { ageYears: 34 })
    expect(mouth.distalTo('37')).toEqual(['38'])
    expect(mouth.distalTo('47')).toEqual([])
  })
  test('missing, unerupted and pontic teeth do not stand; a partly erupted one and an implant do', () => {
    const mouth = mouthFrom(
      {
        '36': ['missing'],
        '35': ['pontic'],
        '45': ['unerupted'],
        '46': ['partly-erupted'],
        '47': ['implant'],
      },
      { ageYears: 34 },
    )
    expect(['36', '35', '45', '46', '47'].map((each) => mouth.isStanding(each as '36'))).toEqual([
      false,
      false,
      false,
      true,
      true,
    ])
    expect(mouth.mesialTo('37').slice(0, 2)).toEqual(['34', '33'])
  })
  test('neighbours run on across the midline to the far end of the arch', () => {
    const mouth = mouthFrom({}, { ageYears: 34 })
    expect(row(mouth.mesialTo('42'))).toBe('41 31 32 33 34 35 36 37')
    expect(row(mouth.distalTo('42'))).toBe('43 44 45 46 47')
  })
})

describe('mixed dentition', () => {
  // Practitioner case 8 (READ): age 10, charted present 84, 85, 46.
  test('a charted primary molar keeps its successor out, with the first molar behind it', () => {
    const mouth = mouthFrom({ '84': ['present'], '85': ['present'], '46': ['present'] }, { ageYears: 10 })
    expect(mouth.distalTo('85')[0]).toBe('46')
    expect(mouth.isStanding('45')).toBe(false)
  })
  test('at five years the mouth is all primary; at nine incisors and first molars are permanent', () => {
    expect(row(mouthFrom({}, { ageYears: 5 }).standingRow('upper'))).toBe('55 54 53 52 51 61 62 63 64 65')
    expect(row(mouthFrom({}, { ageYears: 9 }).standingRow('lower'))).toBe(
      '46 85 84 83 42 41 31 32 73 74 75 36',
    )
  })
  test('a primary tooth that is worked on stands, where no age is known', () => {
    const mouth = mouthFrom({}, { ageYears: null, worked: ['85'] })
    expect(row(mouth.standingRow('lower'))).toBe('85 84 83 82 81 71 72 73 74 75')
  })
  test('a worked tooth that is charted missing stays missing', () =>
    expect(mouthFrom({ '46': ['missing'] }, { ageYears: 34, worked: ['46'] }).isStanding('46')).toBe(false))
})

describe('a mouth that nobody has looked at', () => {
  test('null is not charted: what stands is assumed, and said so', () => {
    const mouth = mouthOf(null, { ageYears: 34, worked: ['46'] })
    expect(mouth.charted).toBe(false)
    expect(mouth.assumed).toHaveLength(27)
    expect(mouth.assumed).not.toContain('46')
  })
})

describe('laws of the mouth', () => {
  const recorded = fc.dictionary(
    fc.constantFrom(...TEETH),
    fc.array(fc.constantFrom(...TOOTH_CONDITIONS), { minLength: 1, maxLength: 2 }),
  )
  const age = fc.option(fc.integer({ min: 0, max: 90 }), { nil: null })
  test('rows hold standing teeth of their arch only, in order, each place’s neighbours being one another’s', () => {
    fc.assert(
      fc.property(recorded, age, (teeth, ageYears) => {
        const mouth = mouthFrom(teeth, { ageYears })
        for (const arch of ['upper', 'lower'] as const) {
          const standing = mouth.standingRow(arch)
          expect(standing.every((each) => mouth.isStanding(each) && archOf(each) === arch)).toBe(true)
          for (const tooth of standing) {
            const behind = mouth.distalTo(tooth)[0]
            if (behind) expect(mouth.mesialTo(behind)[0]).toBe(tooth)
            expect(mouth.distalTo(tooth).every((each) => sideOf(each) === sideOf(tooth))).toBe(true)
          }
        }
      }),
    )
  })
  test('a charted tooth that is absent never stands, and one charted present always does', () => {
    fc.assert(
      fc.property(fc.constantFrom(...TEETH), age, (tooth, ageYears) => {
        expect(mouthFrom({ [tooth]: ['missing'] }, { ageYears }).isStanding(tooth)).toBe(false)
        expect(mouthFrom({ [tooth]: ['present'] }, { ageYears }).isStanding(tooth)).toBe(true)
      }),
    )
  })
  test('a span is the same teeth from either end', () => {
    const tooth = fc.constantFrom(...UPPER_PERMANENT)
    fc.assert(
      fc.property(tooth, tooth, (from, to) => {
        expect(spanBetween(UPPER_PERMANENT, from, to).reverse()).toEqual(
          spanBetween(UPPER_PERMANENT, to, from),
        )
      }),
    )
    expect(crossesMidline(['11', '21'])).toBe(true)
  })
})

describe('eruption ages as printed', () => {
  // ADA tooth eruption charts (READ, two reprints): tooth, earliest, latest, in months.
  test.each([
    ['11', 84, 96],
    ['13', 132, 144],
    ['16', 72, 84],
    ['47', 132, 156],
    ['48', 204, 252],
    ['51', 8, 12],
    ['85', 23, 31],
    ['65', 25, 33],
  ] as const)('%s erupts from %i to %i months', (tooth, earliest, latest) =>
    expect(eruptionOf(tooth)).toMatchObject({ earliest, latest }),
  )
  // Lunt & Law 1974 and Baudi 1981 as reprinted (READ): the means lie within the printed range, or half a year of it.
  test.each([
    ['55', 29],
    ['53', 19],
    ['84', 16],
    ['46', 73],
    ['14', 122],
    ['33', 119],
    ['37', 142],
  ] as const)('the published mean of %s lies within half a year of the chart', (tooth, mean) => {
    const { earliest, latest } = eruptionOf(tooth)
    expect(mean).toBeGreaterThanOrEqual(earliest - 6)
    expect(mean).toBeLessThanOrEqual(latest + 6)
  })
  test('due means by the latest printed age', () => {
    expect(isDue('16', 6)).toBe(false)
    expect(isDue('16', 7)).toBe(true)
  })
})

describe('look-alikes', () => {
  const mouth = mouthFrom({}, { ageYears: 34 })
  test('[tooth/look-alike] of 41 it is 31 and 42; of a molar first its neighbour', () => {
    expect(findLookAlikes('41', mouth)).toEqual(['42', '31'])
    expect(findLookAlikes('46', mouth)).toEqual(['47', '36'])
    expect(findLookAlikes('11', mouth)).toEqual(['21'])
  })
  test('what does not stand is taken for nothing', () =>
    expect(
      findLookAlikes('46', mouthFrom({ '47': ['missing'], '36': ['missing'] }, { ageYears: 34 })),
    ).toEqual([]))
})

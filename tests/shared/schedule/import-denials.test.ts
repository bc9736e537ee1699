import { describe, expect, it } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { type Instant, instant } from '#shared/base/moment.ts'
import { CLINICAL, VERIFICATION } from '../../server/imports/fhir-entries.ts'
import { effect, importFile, MORNING, smallClinic } from '../../server/imports/small-clinic.ts'

/** A day list that has a column for the day on which somebody asked. */
const told = (allergies: string, asked = '', world = smallClinic(), now = MORNING) =>
  importFile(
    world,
    [
      'Id,Date,Start,Minutes,Patient,Born,Allergies,Allergies asked',
      `a,2026-11-24,10:00,30,"Ashgrove, Aoife",1990-05-01,"${allergies}",${asked}`,
    ].join('\n'),
    {},
    now,
  )
const recordOf = (...row: Parameters<typeof told>) =>
  must(told(...row).world.allergyRecord[0], 'a record of what the list says')

describe('an allergies column that denies', () => {
  it.each(['none known', 'None', 'nil', 'NKA', 'No known allergies'])(
    '“%s” without the day of asking is kept word for word and answers nothing',
    (words) => {
      expect(recordOf(words)).toMatchObject({
        state: 'not-asked',
        asked: null,
        latex: 'not-asked',
        allergies: [],
        statements: [{ text: words, source: 'front desk' }],
      })
    },
  )

  it.each(['none known', 'None', 'nil', 'NKA', 'No known allergies'])(
    '“%s” with the day of asking is “none known” as of that day, said by the source; latex stays unasked',
    (words) => {
      expect(recordOf(words, '2026-03-02')).toMatchObject({
        state: 'none-known',
        asked: { by: null, day: '2026-03-02' },
        latex: 'not-asked',
        statements: [{ text: words, source: 'front desk' }],
      })
    },
  )

  it.each(['NKDA', 'No known drug allergies', 'no food allergies'])(
    '“%s” says nothing of latex nor of all else, with a day or without',
    (words) => {
      for (const asked of ['', '2026-03-02'])
        expect(recordOf(words, asked)).toMatchObject({
          state: 'not-asked',
          asked: null,
          latex: 'not-asked',
          latexAsked: null,
          statements: [{ text: words }],
        })
    },
  )

  it('“no latex allergy” with the day of asking answers the question of latex and no other', () => {
    expect(recordOf('No latex allergy', '2026-03-02')).toMatchObject({
      state: 'not-asked',
      latex: 'none-known',
      latexAsked: { by: null, day: '2026-03-02' },
    })
    expect(recordOf('No latex allergy')).toMatchObject({ latex: 'not-asked', latexAsked: null })
  })

  it('the words themselves may say the day', () => {
    expect(recordOf('none known, asked 2026-03-02')).toMatchObject({
      state: 'none-known',
      asked: { day: '2026-03-02' },
      statements: [{ text: 'none known, asked 2026-03-02' }],
    })
  })

  it('of today is an answer of today: never of an hour to come, and nothing new when the list comes again', () => {
    const hour = (hours: number): Instant => instant(MORNING + hours * 3_600_000)
    const first = told('none known', '2026-11-24')
    expect(first.world.allergyRecord[0]).toMatchObject({
      state: 'none-known',
      asked: { by: null, day: '2026-11-24', at: MORNING },
    })
    for (const now of [MORNING, hour(1), hour(6)])
      expect(effect(told('none known', '2026-11-24', first.world, now))).toEqual([])
    expect(recordOf('none known', '2026-11-24', smallClinic(), hour(6))).toMatchObject({
      asked: { day: '2026-11-24', at: Date.UTC(2026, 10, 24, 12) },
    })
    expect(recordOf('no latex allergy', '2026-11-24')).toMatchObject({
      latex: 'none-known',
      latexAsked: { day: '2026-11-24', at: MORNING },
    })
    expect(recordOf('none known, asked 2026-11-24')).toMatchObject({
      state: 'none-known',
      asked: { day: '2026-11-24', at: MORNING },
    })
  })

  it('a day to come, or one that cannot be read, is no answer', () => {
    expect(recordOf('none known', '2027-01-01')).toMatchObject({ state: 'not-asked', asked: null })
    expect(recordOf('none known', 'at the desk')).toMatchObject({
      state: 'not-asked',
      statements: [{ text: 'none known (asked: at the desk)' }],
    })
  })

  it('never lowers what is known; is renewed by a later day, not by an earlier one; says nothing new twice', () => {
    const suspected = told('latex: hives', '')
    const listed = { ...must(suspected.world.allergyRecord[0], 'a record'), state: 'listed' as const }
    const denied = told('none known', '2026-03-02', { ...suspected.world, allergyRecord: [listed] })
    expect(denied.world.allergyRecord[0]).toMatchObject({ state: 'listed' })

    const first = told('none known', '2026-03-02')
    expect(effect(told('none known', '2026-03-02', first.world))).toEqual([])
    expect(effect(told('none known', '2025-03-02', first.world))).toEqual([])
    expect(told('none known', '2026-09-09', first.world).world.allergyRecord[0]).toMatchObject({
      state: 'none-known',
      asked: { day: '2026-09-09' },
    })
    expect(must(first.world.allergyRecord[0]?.asked, 'an answer').at).toBeLessThan(MORNING)
  })
})

describe('what an allergy entry denies', () => {
  const imported = (text: string, code: string | null = null) =>
    importFile(
      smallClinic(),
      JSON.stringify({
        resourceType: 'Bundle',
        type: 'collection',
        entry: [
          {
            resourceType: 'Patient',
            id: 'p',
            name: [{ family: 'Ashgrove', given: ['Aoife'] }],
            birthDate: '1990-05-01',
          },
          {
            resourceType: 'AllergyIntolerance',
            id: 'x',
            clinicalStatus: { coding: [{ system: CLINICAL, code: 'active' }] },
            verificationStatus: { coding: [{ system: VERIFICATION, code: 'confirmed' }] },
            code: { ...(code ? { coding: [{ system: 'http://snomed.info/sct', code }] } : {}), text },
            patient: { reference: 'Patient/p' },
            recordedDate: '2026-02-03T09:00:00Z',
          },
        ].map((resource) => ({ resource })),
      }),
    )
  const NKA = '716186003'

  it.each<[string, string | null, object]>([
    ['No known allergies', null, { state: 'none-known', latex: 'not-asked' }],
    ['No known allergy (situation)', NKA, { state: 'none-known', latex: 'not-asked' }],
    ['No known latex allergy', '716184000', { state: 'not-asked', latex: 'none-known' }],
    ['No known drug allergy', '409137002', { state: 'not-asked', latex: 'not-asked' }],
    ['No known allergies (food)', null, { state: 'not-asked', latex: 'not-asked', allergies: [] }],
    ['No known allergies (food)', NKA, { state: 'not-asked', latex: 'not-asked', allergies: [] }],
    ['No known allergy to penicillin', null, { state: 'not-asked', latex: 'not-asked', allergies: [] }],
    ['No known drug allergies', NKA, { state: 'not-asked', latex: 'not-asked', allergies: [] }],
  ])('“%s”, coded %s: the words are held against the code, to their end', (text, code, record) => {
    expect(imported(text, code).world.allergyRecord[0]).toMatchObject({ ...record, statements: [{ text }] })
  })

  it.each([
    ['No known allergies except latex', null],
    ['No known allergies except latex', NKA],
    ['No known latex allergy - lips swell with dam', null],
    ['No known latex allergy', '300916003'],
  ])('“%s”, coded %s: what it warns of is suspected until somebody looks', (text, code) => {
    const { world } = imported(text, code)
    expect(world.allergyRecord[0]).toMatchObject({
      state: 'listed',
      latex: 'suspected',
      allergies: [{ substance: 'latex', certainty: 'suspected', text }],
    })
  })

  it('what is coded latex stays confirmed with “NKDA” beside it in the same words', () =>
    expect(imported('Latex allergy. NKDA', '300916003').world.allergyRecord[0]).toMatchObject({
      latex: 'confirmed',
    }))
})

import { describe, expect, it } from 'vitest'
import type { Zone } from '#shared/base/moment.ts'
import {
  allergy,
  bundleOf,
  CLINICAL,
  coded,
  imported,
  type Json,
  patient,
  read,
  SNOMED,
  VERIFICATION,
} from './fhir-entries.ts'
import { importFile, smallClinic } from './small-clinic.ts'

/** What HL7 FHIR R4 (4.0.1) says of each element, READ in its own definitions. */

describe('CodeableConcept.coding: codings are alternates of one concept, their order means nothing', () => {
  const LATEX = coded(SNOMED, '1003755004', 'Allergy to Hevea brasiliensis latex protein')
  it.each<[string, Json]>([
    ['a code of the house first, SNOMED CT second', { code: { coding: [coded('urn:local', 'L12'), LATEX] } }],
    [
      'RxNorm first, SNOMED CT second, without any words',
      {
        code: {
          coding: [coded('http://www.nlm.nih.gov/research/umls/rxnorm', '1'), coded(SNOMED, '111088007')],
        },
      },
    ],
    [
      'the substance of a reaction, in words',
      { code: { text: 'Dental materials' }, reaction: [{ substance: { text: 'Latex' }, manifestation: [] }] },
    ],
    ['the same without any code', { reaction: [{ substance: { text: 'latex' }, manifestation: [] }] }],
    [
      'the substance of a second reaction, by code',
      {
        code: { text: 'Dental materials' },
        reaction: [{}, { substance: { coding: [coded(SNOMED, '111088007')] } }],
      },
    ],
    [
      'the display of the second coding',
      { code: { text: 'See chart', coding: [coded('urn:local', 'L12', 'Latex')] } },
    ],
    [
      'beside a code that denies',
      { code: { coding: [coded(SNOMED, '716186003', 'No known allergy'), LATEX] } },
    ],
  ])('latex as %s', (_, more) => {
    const { world } = imported(patient(), allergy(more))
    expect(world.allergyRecord[0]?.allergies[0]?.substance).toBe('latex')
    expect(['confirmed', 'suspected']).toContain(world.allergyRecord[0]?.latex)
  })

  it('a reaction to another substance is an entry of its own that is asked about, and neither hides the other', () => {
    const { world } = imported(
      patient(),
      allergy({ code: { text: 'Chlorhexidine' }, reaction: [{ substance: { text: 'Latex' } }] }),
    )
    expect(world.allergyRecord).toMatchObject([
      { latex: 'suspected', allergies: [{ certainty: 'confirmed' }, { certainty: 'suspected' }] },
    ])
    const substancesOf = (more: Json) =>
      imported(patient(), allergy(more)).world.allergyRecord[0]?.allergies.map(({ substance }) => substance)
    const to = (text: string) => ({ substance: { text } })
    expect(substancesOf({ code: { text: 'Chlorhexidine' }, reaction: [to('Latex')] })).toEqual([
      'chlorhexidine',
      'latex',
    ])
    expect(substancesOf({ reaction: [to('latex'), to('chlorhexidine'), to('Latex')] })).toEqual([
      'latex',
      'chlorhexidine',
    ])
    expect(substancesOf({ code: { text: 'Latex' }, reaction: [to('latex gloves')] })).toEqual(['latex'])
  })

  it('all the words are kept, each once', () => {
    const { allergies } = read([
      patient(),
      allergy({
        code: {
          text: 'Dental materials',
          coding: [coded('urn:local', 'D', 'dental materials'), coded(SNOMED, '1', 'Resin (substance)')],
        },
      }),
    ])
    expect(allergies[0]?.text).toBe('Dental materials; Resin')
  })

  it('without code, words or reaction it is still an allergy, to what is not said', () => {
    const { world } = imported(patient(), allergy())
    expect(world.allergyRecord[0]).toMatchObject({ state: 'listed', allergies: [{ text: 'not said' }] })
  })

  it('a denial holds where all deny, and no wider than the least of them', () => {
    const stateOf = (...codes: string[]) =>
      imported(
        patient(),
        allergy({
          code: { coding: codes.map((code) => coded(SNOMED, code)) },
          recordedDate: '2026-11-20T09:00:00Z',
        }),
      ).world.allergyRecord[0]
    expect(stateOf('716186003')).toMatchObject({ state: 'none-known' })
    expect(stateOf('716186003', '716184000')).toMatchObject({ state: 'not-asked', latex: 'none-known' })
    expect(stateOf('716186003', '91936005')?.state).toBe('listed')
  })
})

describe('AllergyIntolerance.recordedDate (a dateTime: a year, a month, a day or a moment)', () => {
  // MORNING is 08:40 of 2026-11-24 in London, where that is UTC.
  const DENIES = { coding: [coded(SNOMED, '716186003')] }
  const recordOf = (recordedDate: string | undefined, code: object, zone = 'Europe/London') =>
    importFile(smallClinic(), JSON.stringify(bundleOf([patient(), allergy({ code, recordedDate })])), {
      zone: zone as Zone,
    }).world.allergyRecord[0]

  it.each<[said: string, zone: string, day: string, at: string]>([
    ['2026-02-03T09:00:00Z', 'Europe/London', '2026-02-03', '2026-02-03T09:00:00Z'],
    ['2026-02-03T23:30:00-05:00', 'Europe/London', '2026-02-04', '2026-02-04T04:30:00Z'],
    ['2026-02-03T23:30:00-05:00', 'America/New_York', '2026-02-03', '2026-02-04T04:30:00Z'],
    ['2026-02-03', 'Europe/London', '2026-02-03', '2026-02-03T12:00:00Z'],
    ['2026-02-03', 'Pacific/Auckland', '2026-02-03', '2026-02-02T23:00:00Z'],
    // Today: its noon is still to come, so it is now.
    ['2026-11-24', 'Europe/London', '2026-11-24', '2026-11-24T08:40:00Z'],
    ['2026-11-24T08:10:00Z', 'Europe/London', '2026-11-24', '2026-11-24T08:10:00Z'],
  ])('a denial of %s in %s was given on %s', (said, zone, day, at) => {
    expect(recordOf(said, DENIES, zone)).toMatchObject({
      state: 'none-known',
      asked: { by: null, day, at: Date.parse(at) },
      latex: 'not-asked',
    })
  })

  it.each(['2026-11-25', '2026-11-25T09:00:00Z', '2026', '2026-02', '2026-02-30', 'spring', undefined])(
    'a denial of %s is none: nobody knows when it was given',
    (said) => {
      expect(recordOf(said, DENIES)).toMatchObject({ state: 'not-asked', asked: null, latex: 'not-asked' })
    },
  )

  it.each<[said: string | undefined, at: string]>([
    ['2026-02-03T09:00:00Z', '2026-02-03T09:00:00Z'],
    ['2026-02-03', '2026-02-03T12:00:00Z'],
    ['2026', '2026-11-24T08:40:00Z'],
    [undefined, '2026-11-24T08:40:00Z'],
  ])('an allergy of %s stands whatever is said of when, as recorded at %s', (said, at) => {
    expect(recordOf(said, { text: 'Latex' })).toMatchObject({
      state: 'listed',
      allergies: [{ recorded: { by: null, at: Date.parse(at), source: 'front desk' } }],
    })
  })
})

describe('the statuses of an allergy are those of their own code systems (AllergyIntolerance, required bindings)', () => {
  const statusOf = (clinical: object[], verification: object[]) => {
    const [entry] = read([
      patient(),
      allergy({
        code: { text: 'Latex' },
        clinicalStatus: { coding: clinical },
        verificationStatus: { coding: verification },
      }),
    ]).allergies
    return entry?.kind === 'coded' ? [entry.clinical, entry.verification] : null
  }
  it('whatever stands before them', () => {
    expect(
      statusOf(
        [coded('urn:local', 'resolved'), coded(CLINICAL, 'active')],
        [coded('urn:local', 'refuted'), coded(VERIFICATION, 'confirmed')],
      ),
    ).toEqual(['active', 'confirmed'])
  })
  it('of another system, of none, unknown, or contrary: it has to be looked at', () => {
    expect(statusOf([coded('urn:local', 'resolved')], [{ code: 'refuted' }])).toEqual([null, null])
    expect(statusOf([coded(CLINICAL, 'gone')], [coded(VERIFICATION, 'constructor')])).toEqual([null, null])
    expect(
      statusOf(
        [coded(CLINICAL, 'active'), coded(CLINICAL, 'resolved')],
        [coded(VERIFICATION, 'refuted'), coded(VERIFICATION, 'confirmed')],
      ),
    ).toEqual([null, null])
  })
})

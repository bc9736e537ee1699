import { describe, expect, it } from 'vitest'
import { parseFhir } from '#server/imports/fhir.ts'
import { openEach } from '../exports/validators.ts'
import { OPTIONS } from './small-clinic.ts'

const GOOD = {
  resourceType: 'Appointment',
  id: 'a1',
  status: 'booked',
  start: '2026-11-24T09:00:00Z',
  end: '2026-11-24T09:45:00Z',
  participant: [{ actor: { reference: 'Patient/p1', display: 'Aoife Ashgrove' }, status: 'accepted' }],
}
const without = (key: keyof typeof GOOD) =>
  Object.fromEntries(Object.entries(GOOD).filter(([name]) => name !== key)) as unknown as typeof GOOD

/**
 * What each validator catches, and what we refuse: a truth table found by running all three (READ). Ours lets
 * unknown elements through unread, as the standard asks of a reader.
 */
const TABLE: [
  defect: string,
  resource: typeof GOOD,
  schema: boolean,
  structure: boolean,
  bindings: boolean,
  ours: boolean,
][] = [
  ['nothing', GOOD, false, false, false, false],
  ['a status that is none', { ...GOOD, status: 'maybe' }, true, false, true, true],
  ['no status', without('status'), false, true, true, true],
  ['a time without offset', { ...GOOD, start: '2026-11-24T09:00:00' }, true, true, false, true],
  ['no participant', without('participant'), true, true, true, true],
  ['an empty list of participants', { ...GOOD, participant: [] }, false, true, true, true],
  ['a start without an end', without('end'), false, true, false, true],
  ['a length of 0', { ...GOOD, minutesDuration: 0 } as typeof GOOD, false, true, true, true],
  ['a length of 1.5', { ...GOOD, minutesDuration: 1.5 } as typeof GOOD, false, true, true, true],
  ['the end before the start', { ...GOOD, end: '2026-11-24T08:00:00Z' }, false, false, false, true],
  ['an unknown element', { ...GOOD, colour: 'blue' } as typeof GOOD, true, true, true, false],
]

describe('our narrow schemas against three validators', () => {
  const each = openEach()
  it.each(TABLE)('%s', (_, resource, schema, structure, bindings, ours) => {
    expect({
      schema: each.schema(resource).length > 0,
      structure: each.structure(resource).length > 0,
      bindings: each.bindings(resource).length > 0,
      ours: parseFhir(Buffer.from(JSON.stringify(resource)), OPTIONS).problems.length > 0,
    }).toEqual({ schema, structure, bindings, ours })
  })
})

const OF_PATIENT = { reference: 'Patient/p1' }
const clinical = (code: string) => ({
  coding: [{ system: 'http://terminology.hl7.org/CodeSystem/allergyintolerance-clinical', code }],
})
const ALLERGY = {
  resourceType: 'AllergyIntolerance',
  id: 'al1',
  clinicalStatus: clinical('active'),
  verificationStatus: {
    coding: [
      {
        system: 'http://terminology.hl7.org/CodeSystem/allergyintolerance-verification',
        code: 'confirmed',
      },
    ],
  },
  patient: OF_PATIENT,
  code: { text: 'latex' },
}
const tooth = (code: string) => ({
  coding: [{ system: 'http://terminology.hl7.org/CodeSystem/ex-tooth', code }],
})
const REQUEST = {
  resourceType: 'ServiceRequest',
  id: 's1',
  status: 'active',
  intent: 'order',
  subject: OF_PATIENT,
  code: { text: 'composite' },
  bodySite: [tooth('46')],
}
const PROCEDURE = {
  resourceType: 'Procedure',
  id: 'pr1',
  status: 'preparation',
  subject: OF_PATIENT,
  code: { text: 'composite 46' },
}
const { intent: _intent, ...noIntent } = REQUEST
const { patient: _patient, ...nobodys } = ALLERGY
const { clinicalStatus: _status, ...noStatus } = ALLERGY
const { start: _start, end: _end, ...noTime } = GOOD
const [PARTICIPANT] = GOOD.participant

/** A day that holds the resource where the standard puts it. */
const dayWith = (resource: { resourceType: string }): Buffer => {
  const patient = {
    resourceType: 'Patient',
    id: 'p1',
    name: [{ family: 'Ashgrove', given: ['Aoife'] }],
    birthDate: '1990-02-03',
  }
  const visit = {
    ...GOOD,
    ...(resource.resourceType === 'ServiceRequest' ? { basedOn: [{ reference: 'ServiceRequest/s1' }] } : {}),
    ...(resource.resourceType === 'Procedure'
      ? { supportingInformation: [{ reference: 'Procedure/pr1' }] }
      : {}),
  }
  const entries = resource.resourceType === 'Appointment' ? [patient, resource] : [patient, visit, resource]
  const entry = entries.map((each) => ({ resource: each }))
  return Buffer.from(JSON.stringify({ resourceType: 'Bundle', type: 'collection', entry }))
}

/**
 * The same table for what lies beside an appointment. What none of the three catches, or only one, is read by the
 * more careful meaning: an allergy of an unheard-of status counts as live, a tooth that is none is no tooth.
 */
type Row = [
  defect: string,
  resource: { resourceType: string },
  schema: boolean,
  structure: boolean,
  bindings: boolean,
  told: string | null,
]
const BESIDE: Row[] = [
  ['an allergy', ALLERGY, false, false, false, null],
  ['a request', REQUEST, false, false, false, null],
  ['a procedure', PROCEDURE, false, false, false, null],
  [
    'a clinical status that is none',
    { ...ALLERGY, clinicalStatus: clinical('sleeping') } as never,
    false,
    false,
    true,
    null,
  ],
  ['ait-1: no clinical status', noStatus, false, true, false, null],
  ['an allergy of nobody', nobodys, true, true, true, 'patient'],
  [
    'a procedure’s status that is none',
    { ...PROCEDURE, status: 'maybe' } as never,
    false,
    false,
    true,
    'status',
  ],
  ['a request without an intent', noIntent, false, true, true, 'intent'],
  ['tooth 99', { ...REQUEST, bodySite: [tooth('99')] } as never, false, false, false, null],
  [
    'app-1: a participant that is nobody',
    { ...GOOD, participant: [PARTICIPANT, { status: 'accepted' }] } as never,
    false,
    true,
    false,
    null,
  ],
  ['app-3: booked without a time', noTime, false, true, false, 'start'],
  [
    'app-4: booked with a reason to cancel',
    { ...GOOD, cancelationReason: { text: 'ill' } } as never,
    false,
    true,
    false,
    null,
  ],
]

describe('what lies beside an appointment, against three validators', () => {
  const each = openEach()
  it.each(BESIDE)('%s', (_, resource, schema, structure, bindings, told) => {
    const read = parseFhir(dayWith(resource), OPTIONS)
    expect({
      schema: each.schema(resource).length > 0,
      structure: each.structure(resource).length > 0,
      bindings: each.bindings(resource).length > 0,
      told: read.problems[0]?.field ?? null,
    }).toEqual({ schema, structure, bindings, told })
  })

  it('an allergy whose status says nothing is read, never left out', () => {
    for (const resource of [{ ...ALLERGY, clinicalStatus: clinical('sleeping') }, noStatus])
      expect(parseFhir(dayWith(resource), OPTIONS).allergies).toMatchObject([{ kind: 'coded' }])
  })

  it('tooth 99 names no tooth, and its number stays in the words', () => {
    const [visit] = parseFhir(dayWith({ ...REQUEST, bodySite: [tooth('99')] } as never), OPTIONS).appointments
    expect(visit?.work).toMatchObject([{ text: 'composite 99', teeth: [] }])
  })
})

import { parseFhir } from '#server/imports/fhir.ts'
import { importFile, OPTIONS, smallClinic } from './small-clinic.ts'

/** Small FHIR R4 resources of one patient, to be changed as a test needs them. */
export type Json = Record<string, unknown>
export type Entry = Json | { fullUrl: string; resource: Json }
export const bundleOf = (entries: Entry[], more: Json = {}) => ({
  resourceType: 'Bundle',
  type: 'collection',
  ...more,
  entry: entries.map((each) => ('resource' in each ? each : { resource: each })),
})
export const read = (entries: Entry[], more?: Json) =>
  parseFhir(Buffer.from(JSON.stringify(bundleOf(entries, more))), OPTIONS)
export const imported = (...entries: Entry[]) => importFile(smallClinic(), JSON.stringify(bundleOf(entries)))

export const patient = (more: Json = {}): Json => ({
  resourceType: 'Patient',
  id: 'p1',
  name: [{ family: 'Ashgrove', given: ['Aoife'] }],
  birthDate: '1990-05-01',
  ...more,
})
export const actor = (reference: string, more: Json = {}) => ({
  actor: { reference, ...more },
  status: 'accepted',
})
export const appointment = (more: Json = {}): Json => ({
  resourceType: 'Appointment',
  id: 'a1',
  status: 'booked',
  start: '2026-11-24T09:00:00Z',
  end: '2026-11-24T09:45:00Z',
  participant: [actor('Patient/p1'), actor('Location/l1', { display: '4' })],
  ...more,
})
export const request = (more: Json = {}): Json => ({
  resourceType: 'ServiceRequest',
  id: 's1',
  status: 'active',
  intent: 'order',
  subject: { reference: 'Patient/p1' },
  code: { text: 'Root canal 36' },
  ...more,
})
export const BASED = { basedOn: [{ reference: 'ServiceRequest/s1' }] }
export const CLINICAL = 'http://terminology.hl7.org/CodeSystem/allergyintolerance-clinical'
export const VERIFICATION = 'http://terminology.hl7.org/CodeSystem/allergyintolerance-verification'
export const coded = (system: string, code: string, display?: string) => ({ system, code, display })
export const ACTIVE = { coding: [coded(CLINICAL, 'active')] }
export const CONFIRMED = { coding: [coded(VERIFICATION, 'confirmed')] }
export const SNOMED = 'http://snomed.info/sct'
export const allergy = (more: Json = {}): Json => ({
  resourceType: 'AllergyIntolerance',
  id: 'x1',
  clinicalStatus: ACTIVE,
  verificationStatus: CONFIRMED,
  patient: { reference: 'Patient/p1' },
  ...more,
})

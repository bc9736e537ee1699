import type { Allergy, AllergyRecord } from '#shared/allergies/allergy-record.ts'
import { readStatement } from '#shared/allergies/statement.ts'
import { digestOfText } from '#shared/base/digest.ts'
import type { Instant, Zone } from '#shared/base/moment.ts'
import type { Facts, World } from '#shared/facts.ts'
import type { Work } from '#shared/procedures/work.ts'
import { OWN_PATIENT } from '#shared/schedule/import-people.ts'
import { nameTooth } from '#shared/teeth/notation.ts'
import { dentitionOf, type Tooth } from '#shared/teeth/tooth.ts'
import { OWN_MARK, OWN_SYSTEM } from '../imports/fhir-appointment.ts'
import { type ExportedAppointment, endOf, exportedOf, isoWithOffset, markIn } from './day.ts'

type Json = Record<string, unknown>

/**
 * A world's appointments as an HL7 FHIR R4 Bundle, with their patients, people, places, work and allergies. Nothing
 * recorded of allergies is nothing in the Bundle; "none known" is an entry of its own; free text that may be an
 * allergy goes out unconfirmed. Brought back, it changes nothing.
 */
export function makeFhirBundle(world: World, { now, zone }: { now: Instant; zone: Zone }): Json {
  const exported = exportedOf(world)
  const used = <T extends { id: string }>(facts: (T | undefined)[]): T[] => [
    ...new Map(facts.flatMap((fact) => (fact ? [[fact.id, fact] as const] : []))).values(),
  ]
  const patients = used(exported.map(({ patient }) => patient))
  const ids = new Set(patients.map(({ id }) => id))
  const resources = [
    ...patients.map(patientOf),
    ...used(exported.map(({ dentist }) => dentist)).map(practitionerOf),
    ...used(exported.map(({ operatory }) => operatory)).map(locationOf),
    ...world.allergyRecord
      .filter(({ patientId }) => ids.has(patientId))
      .flatMap((record) => allergiesOf(record, zone)),
    ...exported.flatMap((each) => each.work.map((line) => requestOf(line, each))),
    ...exported.map((each) => appointmentOf(each)),
  ]
  return {
    resourceType: 'Bundle',
    type: 'collection',
    timestamp: isoWithOffset(now, zone),
    entry: resources.map((resource) => ({ fullUrl: addressOf(String(resource.id)), resource })),
  }
}

/** By R4 (Bundle 2.36.4.1) a `urn:uuid` meets the `fullUrl` that is the same. */
const addressOf = (id: string): string => `urn:uuid:${id}`
const reference = (type: string, id: string, display?: string): Json => ({
  reference: addressOf(id),
  type,
  ...(display ? { display } : {}),
})
/** A patient who is not in the Bundle is named by number: what is not there cannot be referred to. */
const patientReference = (id: string, patient: Facts['patient'] | undefined): Json =>
  patient
    ? reference('Patient', id, `${patient.given} ${patient.family}`.trim())
    : { type: 'Patient', identifier: { system: OWN_PATIENT, value: id } }
/** FHIR has no empty strings. */
const textOf = (key: string, text: string | null | undefined): Json => (text?.trim() ? { [key]: text } : {})

const patientOf = (patient: Facts['patient']): Json => ({
  resourceType: 'Patient',
  id: patient.id,
  identifier: [
    { system: OWN_PATIENT, value: patient.id },
    ...patient.identifiers
      .map(({ system, value }) => ({ ...(isAddress(system) ? { system } : {}), value }))
      .filter(({ system }) => system !== undefined),
  ],
  name: [
    {
      use: 'official',
      ...textOf('family', patient.family),
      ...(patient.given === '' ? {} : { given: [patient.given] }),
    },
  ],
  ...(patient.born ? { birthDate: patient.born } : {}),
})
/** A system is an address; a source's own name means nothing outside this house. */
const isAddress = (system: string): boolean => /^[a-z][a-z0-9+.-]*:\S+$/i.test(system)

const practitionerOf = (member: Facts['member']): Json => ({
  resourceType: 'Practitioner',
  id: member.id,
  name: [{ text: member.name }],
})
const locationOf = (operatory: Facts['operatory']): Json => ({
  resourceType: 'Location',
  id: operatory.id,
  status: 'active',
  name: operatory.name,
})

function appointmentOf(exported: ExportedAppointment): Json {
  const { appointment, patient, operatory, dentist, work } = exported
  const { id, status, start, zone, minutes, note } = appointment
  const actor = (each: Json): Json => ({ actor: each, status: 'accepted' })
  return {
    resourceType: 'Appointment',
    id,
    meta: { tag: [{ system: OWN_MARK, code: markOfResource(exported) }] },
    identifier: [{ system: OWN_SYSTEM, value: id }],
    status,
    ...textOf('description', work.map(({ text }) => text).join('; ')),
    start: isoWithOffset(start, zone),
    end: isoWithOffset(endOf(appointment), zone),
    minutesDuration: minutes,
    ...textOf('comment', note),
    ...(work.length === 0 ? {} : { basedOn: work.map((line) => reference('ServiceRequest', line.id)) }),
    participant: [
      actor(patientReference(appointment.patientId, patient)),
      ...(dentist ? [actor(reference('Practitioner', dentist.id, dentist.name))] : []),
      ...(operatory ? [actor(reference('Location', operatory.id, operatory.name))] : []),
    ],
  }
}

/** Requests that are an error are not read again, so they are no part of what is said. */
const markOfResource = (exported: ExportedAppointment): string =>
  markIn(exported.appointment.status === 'entered-in-error' ? { ...exported, work: [] } : exported, 'coded')

/** HL7's ex-tooth lists the 32 permanent teeth only; primary teeth go out under ISO 3950 itself. */
const toothSystem = (tooth: Tooth): string =>
  dentitionOf(tooth) === 'permanent'
    ? 'http://terminology.hl7.org/CodeSystem/ex-tooth'
    : 'urn:iso:std:iso:3950'

const requestOf = (
  { id, text, teeth }: Work,
  { appointment: { patientId, status }, patient }: ExportedAppointment,
): Json => ({
  resourceType: 'ServiceRequest',
  id,
  status: status === 'entered-in-error' ? 'entered-in-error' : 'active',
  intent: 'order',
  code: { text: text.trim() === '' ? 'not said' : text },
  subject: patientReference(patientId, patient),
  ...(teeth.length === 0
    ? {}
    : {
        bodySite: teeth.map((tooth) => ({
          coding: [{ system: toothSystem(tooth), code: tooth, display: nameTooth(tooth) }],
        })),
      }),
})

const CLINICAL = 'http://terminology.hl7.org/CodeSystem/allergyintolerance-clinical'
const VERIFICATION = 'http://terminology.hl7.org/CodeSystem/allergyintolerance-verification'
/** What is known here → clinicalStatus and verificationStatus. A preference is no allergy and does not go out. */
const STATUSES: Record<
  Exclude<Allergy['certainty'], 'preference'>,
  [clinical: string, verification: string]
> = {
  confirmed: ['active', 'confirmed'],
  suspected: ['active', 'unconfirmed'],
  past: ['resolved', 'confirmed'],
  refuted: ['inactive', 'refuted'],
}

/** A UUID made of a name, version 8 of RFC 9562: the same entry has the same in every Bundle. */
function uuidOf(name: string): string {
  const hex = digestOfText(name)
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-8${hex.slice(13, 16)}-8${hex.slice(17, 20)}-${hex.slice(20, 32)}`
}

function allergiesOf(record: AllergyRecord, zone: Zone): Json[] {
  const base = (index: number, [clinical, verification]: [string, string]): Json => ({
    resourceType: 'AllergyIntolerance',
    id: uuidOf(`${record.id}-${index}`),
    clinicalStatus: { coding: [{ system: CLINICAL, code: clinical }] },
    verificationStatus: { coding: [{ system: VERIFICATION, code: verification }] },
    patient: reference('Patient', record.patientId),
  })
  const entries = record.allergies.flatMap((allergy) =>
    allergy.certainty === 'preference'
      ? []
      : [
          (index: number) => ({
            ...base(index, STATUSES[allergy.certainty as keyof typeof STATUSES]),
            ...entryOf(allergy, zone),
          }),
        ],
  )
  const open = record.statements.filter(({ text }) =>
    ['possible', 'unread'].includes(readStatement(text).kind),
  )
  const said = open.map(({ text }) => (index: number) => ({
    ...base(index, STATUSES.suspected),
    code: { text },
  }))
  const none =
    record.state === 'none-known'
      ? [(index: number) => ({ ...base(index, STATUSES.confirmed), ...noneKnown(record, zone) })]
      : []
  return [...entries, ...said, ...none].map((make, index) => make(index + 1))
}

const entryOf = ({ text, code, criticality, severity, recorded }: Allergy, zone: Zone): Json => ({
  ...(criticality ? { criticality } : {}),
  code: {
    ...(code
      ? { coding: [{ ...(isAddress(code.system) ? { system: code.system } : {}), code: code.code }] }
      : {}),
    text: text.trim() === '' ? 'not said' : text,
  },
  recordedDate: isoWithOffset(recorded.at, zone),
  ...(severity === 'unknown' ? {} : { reaction: [{ manifestation: [{ text: 'not said' }], severity }] }),
})

const noneKnown = ({ asked }: AllergyRecord, zone: Zone): Json => ({
  code: {
    coding: [{ system: 'http://snomed.info/sct', code: '716186003', display: 'No known allergy' }],
    text: 'No known allergy',
  },
  ...(asked ? { recordedDate: isoWithOffset(asked.at, zone) } : {}),
})

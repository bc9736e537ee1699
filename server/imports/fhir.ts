import { type Instant, parseDay } from '#shared/base/moment.ts'
import { OWN_PATIENT } from '#shared/schedule/import-people.ts'
import {
  coverageOf,
  type Incoming,
  type IncomingAllergy,
  type IncomingPatient,
  type IncomingWork,
} from '#shared/schedule/incoming.ts'
import { decode } from './decode.ts'
import {
  nameOfReference,
  openResources,
  type Resources,
  typeOfReference,
  type Unpacked,
  unpackJson,
  unpackNdjson,
} from './fhir-resources.ts'
import type { Concept, Name, Reference, ResourceOf } from './fhir-schema.ts'
import { conceptOf, type Request, wordsOf, workOf } from './fhir-work.ts'
import { emptyIncoming, parsePersonName, problemOf, type ReadOptions, withHash } from './incoming.ts'
import { inZone, parseStamp } from './moments.ts'

/** The system under which our own exports carry an appointment's id. */
export const OWN_SYSTEM = 'urn:weirboard:appointment'

type Appointment = ResourceOf<'Appointment'>

/** A FHIR R4 Bundle or single resource (R5's names accepted), as bytes. */
export const parseFhir = (bytes: Uint8Array, options: ReadOptions): Incoming =>
  readResources(unpackJson(decode(bytes).text), { ...options, format: 'fhir' })

/** One resource a line, as bulk exports write them. */
export const parseNdjson = (bytes: Uint8Array, options: ReadOptions): Incoming =>
  readResources(unpackNdjson(decode(bytes).text), { ...options, format: 'ndjson' })

function readResources(unpacked: Unpacked, options: ReadOptions & { format: 'fhir' | 'ndjson' }): Incoming {
  const resources = openResources(unpacked)
  const incoming: Incoming = {
    ...emptyIncoming(options.format),
    rows: resources.rows,
    problems: resources.problems,
    passedOver: resources.passedOver,
  }
  const reading: Reading = {
    incoming,
    resources,
    options,
    linked: new Set(),
    loose: looseRequests(resources),
  }
  for (const placed of resources.all) takeResource(reading, placed)
  tellLoose(reading)
  if (incoming.appointments.length + incoming.allergies.length === 0 && incoming.problems.length === 0) {
    incoming.problems.push(nothingToRead(resources))
  }
  const whole =
    unpacked.bundleType === 'searchset' || unpacked.bundleType === 'collection' || options.format === 'ndjson'
  return {
    ...incoming,
    covers: whole && incoming.appointments.length > 1 ? coverageOf(incoming.appointments) : null,
  }
}

interface Reading {
  incoming: Incoming
  resources: Resources
  options: ReadOptions
  /** Requests that an appointment names. */
  linked: Set<Request>
  loose: Map<string, { line: number; request: Request; original: string }[]>
}

interface PlacedResource {
  line: number
  resource: Resources['all'][number]['resource']
  original: string
}

function takeResource(reading: Reading, { line, resource, original }: PlacedResource): void {
  const { incoming } = reading
  switch (resource.resourceType) {
    case 'Appointment':
      takeAppointment(reading, { line, resource, original })
      return
    case 'AllergyIntolerance':
      incoming.allergies.push(...allergiesOf(resource, { line, reading }))
      return
    case 'ServiceRequest':
    case 'Procedure':
      if (!isAhead(resource))
        incoming.passedOver.push({ line, why: `${resource.resourceType} ${resource.status}: not ahead` })
      return
    default:
      incoming.passedOver.push({ line, why: `${resource.resourceType}: read with what names it` })
  }
}

/** Work that is still to be done, by HL7's request and event statuses. */
const isAhead = (request: Request): boolean =>
  request.resourceType === 'ServiceRequest'
    ? ['draft', 'active', 'on-hold'].includes(request.status)
    : ['preparation', 'in-progress', 'on-hold'].includes(request.status)

function takeAppointment(
  reading: Reading,
  { line, resource, original }: { line: number; resource: Appointment; original: string },
): void {
  const read = readAppointment(resource, reading, line)
  if ('contentHash' in read) reading.incoming.appointments.push(read)
  else
    reading.incoming.problems.push(
      problemOf({ line, field: read.field, original, externalId: idOf(resource) }, ...read.parts),
    )
}

interface Refused {
  field: string
  parts: [what: string, why: string, todo: string]
}

function readAppointment(
  resource: Appointment,
  reading: Reading,
  line: number,
): ReturnType<typeof withHash> | Refused {
  const start = parseStamp(resource.start ?? '')
  if (start === null) return { field: 'start', parts: noStart(resource) }
  const minutes = minutesOf(resource, start)
  if (minutes === null) return { field: 'end', parts: noEnd(resource) }
  const patients = actorsOf(resource, 'Patient', reading.resources)
  if (patients.length > 1) return { field: 'participant', parts: TWO_PATIENTS }
  const [patient = resource.subject] = patients
  const { zone } = reading.options
  const when = inZone(start, zone)
  return withHash({
    line,
    externalId: idOf(resource),
    recurrenceKey: '',
    sequence: null,
    stamp: parseStamp(resource.meta?.lastUpdated ?? ''),
    status: resource.status,
    day: when.day,
    startsAt: when.time,
    zone,
    start: when.start,
    minutes,
    operatory: operatoryOf(resource, reading.resources),
    dentist: dentistOf(resource, reading.resources),
    patient: patient === undefined ? null : patientOf(patient, reading),
    work: workOfAppointment(resource, reading, patient),
    note: [resource.comment, ...(resource.note ?? []).map(({ text }) => text)]
      .filter((text) => text)
      .join(' · '),
  })
}

const noStart = ({ status, start }: Appointment): Refused['parts'] =>
  start === undefined
    ? [
        `This appointment is ${status} and has no start.`,
        'Without a time it has no place in the day.',
        'Give it a time in the system it comes from, or settle it here by hand.',
      ]
    : [
        `"${start}" has no offset or is not a time.`,
        'Which moment is meant cannot be known.',
        'Export it with an offset such as Z or +01:00, or enter the appointment by hand.',
      ]
const noEnd = ({ end }: Appointment): Refused['parts'] => [
  end === undefined
    ? 'The appointment has no end and no length.'
    : `The end "${end}" is not after the start.`,
  'How long the operatory is taken cannot be told.',
  'Mend the end in the system it comes from, or enter the appointment by hand.',
]
const TWO_PATIENTS: Refused['parts'] = [
  'This appointment names more than one patient.',
  'Whose allergies and teeth count cannot be known.',
  'Make one appointment for each patient, or enter them by hand.',
]

function idOf(resource: Appointment): string | null {
  const own = resource.identifier?.find(({ system }) => system === OWN_SYSTEM)?.value
  if (own !== undefined) return `weirboard:${own}`
  const first = resource.identifier?.find(({ value }) => value !== undefined)
  return resource.id ?? (first ? `${first.system ?? ''}|${first.value}` : null)
}

function minutesOf(resource: Appointment, start: Instant): number | null {
  if (resource.end === undefined) return resource.minutesDuration ?? null
  const end = parseStamp(resource.end)
  const minutes = end === null ? 0 : Math.round((end - start) / 60_000)
  return minutes > 0 && minutes <= 24 * 60 ? minutes : null
}

/** Those who take part and have not declined, by the kind of resource they are. */
function actorsOf(resource: Appointment, type: 'Patient' | 'Location', resources: Resources): Reference[] {
  return resource.participant
    .filter(({ status }) => status !== 'declined')
    .flatMap(({ actor }) =>
      actor && (typeOfReference(actor) === type || resources.find(actor, type)) ? [actor] : [],
    )
}

const operatoryOf = (resource: Appointment, resources: Resources): string | null => {
  const [actor] = actorsOf(resource, 'Location', resources)
  return actor ? (resources.find(actor, 'Location')?.name ?? actor.display ?? nameOfReference(actor)) : null
}

/** The first who attends or performs, else the first practitioner. */
function dentistOf(resource: Appointment, resources: Resources): string | null {
  const people = resource.participant
    .filter(({ status }) => status !== 'declined')
    .flatMap(({ actor, type }) => {
      const found = practitionerName(actor, resources)
      return found === null ? [] : [{ name: found, leads: (type ?? []).some(isLead) }]
    })
  return (people.find(({ leads }) => leads) ?? people[0])?.name ?? null
}
const isLead = (type: Concept): boolean =>
  (type.coding ?? []).some(({ code }) => code === 'ATND' || code === 'PPRF' || code === 'SPRF')

function practitionerName(actor: Reference | undefined, resources: Resources): string | null {
  const role = resources.find(actor, 'PractitionerRole')
  const practitioner = resources.find(role?.practitioner ?? actor, 'Practitioner')
  const type = typeOfReference(actor)
  if (!practitioner && !role && type !== 'Practitioner' && type !== 'PractitionerRole') return null
  return sayName(practitioner?.name) || actor?.display || nameOfReference(actor)
}

const chosenName = (names: Name[] | undefined): Name | undefined =>
  names?.find(({ use }) => use === 'official') ?? names?.find(({ use }) => use === 'usual') ?? names?.[0]
const sayName = (names: Name[] | undefined): string => {
  const name = chosenName(names)
  return name?.text ?? [...(name?.given ?? []), name?.family ?? ''].join(' ').trim()
}

/** Who a reference means, as far as the file says; the reference itself is an identifier of this source. */
function patientOf(reference: Reference, { resources, options }: Reading): IncomingPatient {
  const patient = resources.find(reference, 'Patient')
  const ids = (patient?.identifier ?? []).flatMap(({ system, value }) =>
    value === undefined ? [] : [{ system: system ?? options.source, value }],
  )
  const isOurs = ids.some(({ system }) => system === OWN_PATIENT)
  const local = isOurs ? undefined : (patient?.id ?? nameOfReference(reference)?.split('/')[1])
  const name = chosenName(patient?.name)
  const plain = parsePersonName(name?.text ?? reference.display ?? '')
  return {
    given: name?.given?.join(' ') ?? plain.given,
    family: name?.family ?? plain.family,
    born: parseDay(patient?.birthDate ?? ''),
    identifiers: local === undefined ? ids : [...ids, { system: `${options.source}/Patient`, value: local }],
  }
}

/** The requests an appointment rests on; else its own words. */
function workOfAppointment(
  resource: Appointment,
  reading: Reading,
  patient: Reference | undefined,
): IncomingWork[] | null {
  const { resources } = reading
  const references = [
    ...(resource.basedOn ?? []),
    ...(resource.reasonReference ?? []),
    ...(resource.supportingInformation ?? []),
    ...(resource.reason ?? []).map(({ reference }) => reference),
  ]
  const named = references.flatMap(
    (reference) =>
      resources.find(reference, 'ServiceRequest') ?? resources.find(reference, 'Procedure') ?? [],
  )
  const requests = named.length > 0 ? named : onlyAppointmentOf(resource, reading, patient)
  for (const request of requests) reading.linked.add(request)
  const ahead = requests.filter(isAhead)
  if (requests.length > 0 && ahead.length === 0) return null
  if (ahead.length > 0) return [...new Set(ahead)].map((request) => workOf(request, resources))
  const own = [
    ...(resource.reasonCode ?? []).map(wordsOf),
    ...(resource.reason ?? []).map((reason) => wordsOf(conceptOf(reason))),
  ].filter((text) => text !== '')
  const fallback = [
    resource.description ?? '',
    ...(resource.serviceType ?? []).map((type) => wordsOf(conceptOf(type))),
  ].find((text) => text !== '')
  if (own.length === 0 && fallback === undefined) return null
  return (own.length > 0 ? own : [fallback ?? '']).map((text) => ({
    text,
    teeth: [],
    surfaces: [],
  }))
}

const keyOf = (reference: Reference | undefined): string => reference?.reference ?? ''

/** Requests by patient that no appointment names. */
function looseRequests(resources: Resources): Reading['loose'] {
  const loose: Reading['loose'] = new Map()
  for (const { line, resource, original } of resources.all) {
    if (resource.resourceType !== 'ServiceRequest' && resource.resourceType !== 'Procedure') continue
    if (!isAhead(resource)) continue
    const key = keyOf(resource.subject)
    loose.set(key, [...(loose.get(key) ?? []), { line, request: resource, original }])
  }
  return loose
}

/** A request that no appointment names belongs to the patient's appointment where the file has exactly one. */
function onlyAppointmentOf(
  resource: Appointment,
  { resources, loose }: Reading,
  patient: Reference | undefined,
): Request[] {
  const found = loose.get(keyOf(patient))
  if (found === undefined || patient === undefined) return []
  const theirs = resources.all.filter(
    ({ resource: other }) =>
      other.resourceType === 'Appointment' &&
      actorsOf(other, 'Patient', resources).some((actor) => keyOf(actor) === keyOf(patient)),
  )
  return theirs.length === 1 && theirs[0]?.resource === resource ? found.map(({ request }) => request) : []
}

function tellLoose({ incoming, linked, loose }: Reading): void {
  for (const { line, request, original } of [...loose.values()].flat()) {
    if (linked.has(request))
      incoming.passedOver.push({ line, why: `${request.resourceType}: read with its appointment` })
    else
      incoming.problems.push(
        problemOf(
          { line, field: 'basedOn', original },
          `No appointment of this file names this ${request.resourceType}.`,
          'For which visit the work is meant cannot be known.',
          'Add the work to the right appointment by hand.',
        ),
      )
  }
}

const codeOf = (concept: Concept | undefined): string | undefined =>
  concept?.coding?.find(({ code }) => code !== undefined)?.code
const oneOf = <const Codes extends readonly string[]>(
  codes: Codes,
  code: string | undefined,
): Codes[number] | null => codes.find((known) => known === code) ?? null

/** The coded entry, and its notes as statements of their own: a note may deny what a code says. */
function allergiesOf(
  resource: ResourceOf<'AllergyIntolerance'>,
  { line, reading }: { line: number; reading: Reading },
): IncomingAllergy[] {
  const coding = resource.code?.coding?.find(({ code }) => code !== undefined)
  const severities = (resource.reaction ?? []).map(({ severity }) => severity)
  const patient = patientOf(resource.patient, reading)
  return [
    {
      kind: 'coded',
      line,
      patient,
      text: wordsOf(resource.code),
      code: coding ? { system: coding.system ?? '', code: coding.code ?? '' } : null,
      clinical: oneOf(['active', 'inactive', 'resolved'], codeOf(resource.clinicalStatus)),
      verification: oneOf(
        ['unconfirmed', 'confirmed', 'refuted', 'entered-in-error'],
        codeOf(resource.verificationStatus),
      ),
      criticality: oneOf(['low', 'high', 'unable-to-assess'], resource.criticality),
      severity:
        (['severe', 'moderate', 'mild'] as const).find((severity) => severities.includes(severity)) ?? null,
      recorded: parseStamp(resource.recordedDate ?? ''),
    },
    ...(resource.note ?? []).map(
      ({ text }): IncomingAllergy => ({ kind: 'text', line, patient, text, asked: null }),
    ),
  ]
}

function nothingToRead(resources: Resources) {
  const kinds = [...new Set(resources.passedOver.map(({ why }) => why.split(/[ :]/)[0]))].join(', ')
  return problemOf(
    { line: 1, field: 'file', original: '' },
    `The file holds ${kinds === '' ? 'no resources' : kinds} but no Appointment and no AllergyIntolerance.`,
    'There is nothing in it that changes the day.',
    'Export the appointments with their patients, and bring that file.',
  )
}

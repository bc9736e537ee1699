import type { Instant } from '#shared/base/moment.ts'
import type { Ending } from '#shared/schedule/import-batch.ts'
import { endingOf } from '#shared/schedule/import-endings.ts'
import { OWN } from '#shared/schedule/import-matches.ts'
import { actorsOf, dentistOf, operatoryOf, patientOf } from './fhir-people.ts'
import { type Requests, workOfAppointment } from './fhir-requests.ts'
import type { Resources } from './fhir-resources.ts'
import type { Reference, ResourceOf } from './fhir-schema.ts'
import { type ReadOptions, withHash } from './incoming.ts'
import { inZone, parseStamp } from './moments.ts'

/** The system under which our own exports carry an appointment's id. */
export const OWN_SYSTEM = 'urn:weirboard:appointment'
/** The system of the tag that holds the mark of what an export of ours said. */
export const OWN_MARK = 'urn:weirboard:mark'

type Appointment = ResourceOf<'Appointment'>

/** A FHIR file as far as it is read. */
export interface FhirFile {
  resources: Resources
  requests: Requests
  options: ReadOptions
}

/** Why an appointment cannot be taken: the element, and the three parts of what is told. */
export interface Refused {
  field: string
  parts: [what: string, why: string, todo: string]
  /** It can be ended all the same, where it is known by its id: R4 lets a cancelled one be without a start. */
  ends?: Ending | null
}

function readWhole(
  resource: Appointment,
  file: FhirFile,
  line: number,
): ReturnType<typeof withHash> | Refused {
  const start = parseStamp(resource.start ?? '')
  if (start === null) return { field: 'start', parts: noStart(resource) }
  const minutes = minutesOf(resource, start)
  if (minutes === null) return { field: 'end', parts: noEnd(resource) }
  const patients = actorsOf(resource, 'Patient', file.resources)
  if (patients.length > 1) return { field: 'participant', parts: TWO_PATIENTS }
  const [patient = resource.subject] = patients
  const unclear = unclearPatient(patient, file.resources)
  if (unclear) return { field: 'participant', parts: unclear }
  const places = actorsOf(resource, 'Location', file.resources)
  if (places.length > 1 || file.resources.look(places[0], 'Location').kind === 'several')
    return { field: 'participant', parts: TWO_PLACES }
  const { zone } = file.options
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
    operatory: operatoryOf(resource, file.resources),
    dentist: dentistOf(resource, file.resources),
    patient: patient === undefined ? null : patientOf(patient, file),
    work: workOfAppointment(resource, file, patient),
    note: [resource.comment, ...(resource.note ?? []).map(({ text }) => text)]
      .filter((text) => text)
      .join(' · '),
    ...(idOf(resource)?.startsWith(OWN) ? { ofOurs: { form: 'coded', mark: ownMark(resource) } } : {}),
  })
}

const ownMark = ({ meta }: Appointment): string | null =>
  meta?.tag?.find(({ system }) => system === OWN_MARK)?.code ?? null

/** As it is taken; or why it cannot be, and what it ends though it is not taken. */
export function readAppointment(
  resource: Appointment,
  file: FhirFile,
  line: number,
): ReturnType<typeof withHash> | Refused {
  const read = readWhole(resource, file, line)
  if ('contentHash' in read) return read
  const stamp = parseStamp(resource.meta?.lastUpdated ?? '')
  const said = {
    status: resource.status,
    externalId: idOf(resource),
    recurrenceKey: '',
    sequence: null,
    stamp,
  }
  return { ...read, ends: endingOf(said) }
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

const TWO_PLACES: Refused['parts'] = [
  'This appointment names more than one place.',
  'In which operatory it is held cannot be known.',
  'Leave one place in the system it comes from, or enter the appointment by hand.',
]

/** Why nobody can be said to be meant by a reference to a patient; null where somebody is, or nobody is named. */
export function unclearPatient(
  patient: Reference | undefined,
  resources: Resources,
): Refused['parts'] | null {
  const looked = resources.look(patient, 'Patient')
  switch (looked.kind) {
    case 'several':
      return [
        'More than one patient of this file fits the one that is named here.',
        'Whose allergies and teeth count cannot be known.',
        'Mend the reference in the system it comes from, or enter it by hand on the right patient.',
      ]
    case 'refused':
      return [
        `The Patient record that is named here ${looked.why}.`,
        'Taken as it is it could be put on the wrong record.',
        'Find the right patient in the system it comes from, and enter it by hand on the right record.',
      ]
    case 'found':
    case 'absent':
      return null
  }
}

/** The id by which the source, or we, know an appointment again. */
export function idOf(resource: Pick<Appointment, 'id' | 'identifier'>): string | null {
  const inUse = resource.identifier?.filter(({ use }) => use !== 'old')
  const own = inUse?.find(({ system }) => system === OWN_SYSTEM)?.value
  if (own !== undefined) return `${OWN}${own}`
  const first = inUse?.find(({ value }) => value !== undefined)
  return resource.id ?? (first ? `${first.system ?? ''}|${first.value}` : null)
}

function minutesOf(resource: Appointment, start: Instant): number | null {
  if (resource.end === undefined) return resource.minutesDuration ?? null
  const end = parseStamp(resource.end)
  const minutes = end === null ? 0 : Math.round((end - start) / 60_000)
  return minutes > 0 && minutes <= 24 * 60 ? minutes : null
}

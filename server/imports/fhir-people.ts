import { parseDay } from '#shared/base/moment.ts'
import { OWN_PATIENT } from '#shared/schedule/import-people.ts'
import type { IncomingPatient } from '#shared/schedule/incoming.ts'
import { nameOfReference, type Resources, typeOfReference } from './fhir-resources.ts'
import type { Concept, Name, Reference, ResourceOf } from './fhir-schema.ts'
import { parsePersonName, type ReadOptions } from './incoming.ts'

type Appointment = ResourceOf<'Appointment'>

/** Those who take part and have not declined, by the kind of resource they are. */
export function actorsOf(
  resource: Appointment,
  type: 'Patient' | 'Location',
  resources: Resources,
): Reference[] {
  return resource.participant
    .filter(({ status }) => status !== 'declined')
    .flatMap(({ actor }) =>
      actor && (typeOfReference(actor) === type || resources.find(actor, type)) ? [actor] : [],
    )
}

/** The room as the file names it. */
export const operatoryOf = (resource: Appointment, resources: Resources): string | null => {
  const [actor] = actorsOf(resource, 'Location', resources)
  return actor ? (resources.find(actor, 'Location')?.name ?? actor.display ?? nameOfReference(actor)) : null
}

/** The first who attends or performs, else the first practitioner. */
export function dentistOf(resource: Appointment, resources: Resources): string | null {
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
export function patientOf(
  reference: Reference,
  { resources, options: { source } }: { resources: Resources; options: ReadOptions },
): IncomingPatient {
  const patient = resources.find(reference, 'Patient')
  const ids = (patient?.identifier ?? []).flatMap(({ system, value }) =>
    value === undefined ? [] : [{ system: system ?? source, value }],
  )
  const isOurs = ids.some(({ system }) => system === OWN_PATIENT)
  const local = isOurs ? undefined : (patient?.id ?? nameOfReference(reference)?.split('/')[1])
  const name = chosenName(patient?.name)
  const plain = parsePersonName(name?.text ?? reference.display ?? '')
  return {
    given: name?.given?.join(' ') ?? plain.given,
    family: name?.family ?? plain.family,
    born: parseDay(patient?.birthDate ?? ''),
    identifiers: local === undefined ? ids : [...ids, { system: `${source}/Patient`, value: local }],
  }
}

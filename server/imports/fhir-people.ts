import { parseDay } from '#shared/base/moment.ts'
import { OWN_PATIENT } from '#shared/schedule/import-people.ts'
import type { IncomingPatient } from '#shared/schedule/incoming.ts'
import { baseOfReference, nameOfReference, typeOfReference } from './fhir-references.ts'
import type { Resources } from './fhir-resources.ts'
import type { Concept, KnownType, Name, Reference, ResourceOf } from './fhir-schema.ts'
import { parsePersonName, type ReadOptions } from './incoming.ts'

type Appointment = ResourceOf<'Appointment'>

/** Those who take part and have not declined, by the kind of resource they are; each of them once. */
export function actorsOf(
  resource: Appointment,
  type: 'Patient' | 'Location',
  resources: Resources,
): Reference[] {
  const actors = resource.participant
    .filter(({ status }) => status !== 'declined')
    .flatMap(({ actor }) =>
      actor && (typeOfReference(actor) === type || resources.look(actor, type).kind !== 'absent')
        ? [actor]
        : [],
    )
  return [...new Map(actors.map((actor) => [whoIs(actor, type, resources), actor])).values()]
}

/** Who or what a reference means within a file: two that mean the same are equal. */
export const whoIs = (reference: Reference, type: KnownType, resources: Resources): object | string =>
  resources.find(reference, type) ??
  reference.reference ??
  (reference.identifier
    ? `${reference.identifier.system ?? ''}|${reference.identifier.value ?? ''}`
    : (reference.display ?? reference))

/** The room as the file names it; one that is out of use is none. */
export const operatoryOf = (resource: Appointment, resources: Resources): string | null => {
  const [actor] = actorsOf(resource, 'Location', resources)
  if (actor === undefined || resources.look(actor, 'Location').kind === 'refused') return null
  return resources.find(actor, 'Location')?.name ?? actor.display ?? nameOfReference(actor)
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

const WHO = ['PractitionerRole', 'Practitioner'] as const
function practitionerName(actor: Reference | undefined, resources: Resources): string | null {
  if (WHO.some((type) => resources.look(actor, type).kind === 'refused')) return null
  const role = resources.find(actor, 'PractitionerRole')
  const practitioner = resources.find(role?.practitioner ?? actor, 'Practitioner')
  const type = typeOfReference(actor)
  if (!practitioner && !role && type !== 'Practitioner' && type !== 'PractitionerRole') return null
  return sayName(practitioner?.name) || actor?.display || nameOfReference(actor)
}

/** HL7 name-use (R4, a modifier element, READ), as they are preferred. A name that is no longer borne is not among them. */
const NAME_USES = ['official', 'usual', undefined, 'nickname', 'temp', 'anonymous']
const chosenName = (names: Name[] | undefined): Name | undefined =>
  NAME_USES.flatMap((wanted) => names?.find(({ use }) => use === wanted) ?? [])[0]
const sayName = (names: Name[] | undefined): string => {
  const name = chosenName(names)
  return name?.text ?? [...(name?.given ?? []), name?.family ?? ''].join(' ').trim()
}

/** Its parts as they are given; the words of the whole stand in for a part only where they hold more than the other. */
function partsOfName(name: Name | undefined, display: string): { given: string; family: string } {
  const given = name?.given?.join(' ') ?? ''
  const family = name?.family ?? ''
  if (given !== '' && family !== '') return { given, family }
  if (given === '' && family === '') return parsePersonName(name?.text ?? display)
  const whole = parsePersonName(name?.text ?? '')
  if (given === '') return { given: whole.given, family }
  return { given, family: whole.given === '' ? '' : whole.family }
}

/** Numbers that are in use and lasting: R4's Identifier.use is a modifier element (READ). */
const lasting = (identifiers: ResourceOf<'Patient'>['identifier']): { system?: string; value: string }[] =>
  (identifiers ?? []).flatMap(({ use, system, value }) =>
    value === undefined || use === 'old' || use === 'temp'
      ? []
      : [{ value, ...(system === undefined ? {} : { system }) }],
  )

/** Who a reference means, as far as the file says; the reference itself is an identifier of this source or its server. */
export function patientOf(
  reference: Reference,
  { resources, options: { source } }: { resources: Resources; options: ReadOptions },
): IncomingPatient {
  const patient = resources.find(reference, 'Patient')
  const known = patient ? patient.identifier : reference.identifier && [reference.identifier]
  const ids = lasting(known).map(({ system = source, value }) => ({ system, value }))
  const isOurs = ids.some(({ system }) => system === OWN_PATIENT)
  const local = isOurs ? undefined : localId(reference, patient)
  return {
    ...partsOfName(chosenName(patient?.name), reference.display ?? ''),
    born: parseDay(patient?.birthDate ?? ''),
    identifiers:
      local === undefined
        ? ids
        : [...ids, { system: `${baseOfReference(reference) ?? `${source}/`}Patient`, value: local }],
  }
}

/** Whether it says no birth date or a whole one. R4 also allows a year or a month alone (READ): that is no day. */
export const isBirthDay = ({ birthDate }: ResourceOf<'Patient'>): boolean =>
  birthDate === undefined || parseDay(birthDate) !== null

export const noBirthDay = ({ birthDate }: ResourceOf<'Patient'>): [string, string, string] => [
  `The birth date "${birthDate}" names no day, so none was taken; the appointments of this patient were.`,
  'Two patients of one name are told apart by it, and doses are checked by age.',
  'Ask for the whole date, and enter it with the patient or in the system it comes from.',
]

/** What stands within another resource has no name outside it. */
const localId = ({ reference }: Reference, patient: ResourceOf<'Patient'> | undefined): string | undefined =>
  reference?.includes('#') ? undefined : (patient?.id ?? nameOfReference({ reference })?.split('/')[1])

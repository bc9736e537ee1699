import type { IncomingProblem, IncomingWork } from '#shared/schedule/incoming.ts'
import { actorsOf, whoIs } from './fhir-people.ts'
import type { Looked } from './fhir-references.ts'
import type { Resources } from './fhir-resources.ts'
import { isEnded, type Reference, type ResourceOf } from './fhir-schema.ts'
import { conceptOf, type Request, wordsOf, workOf } from './fhir-work.ts'
import { problemOf } from './incoming.ts'

type Appointment = ResourceOf<'Appointment'>

/** Which work belongs to which appointment of a file. */
export interface Requests {
  /** Requests that an appointment names. */
  linked: Set<Request>
  loose: Map<object | string, { line: number; request: Request; original: string }[]>
  /** The appointments of each patient, by who they are. */
  visits: Map<object | string, Appointment[]>
}

interface Reading {
  resources: Resources
  requests: Requests
}

export const openRequests = (resources: Resources): Requests => ({
  linked: new Set(),
  loose: looseRequests(resources),
  visits: visitsByPatient(resources),
})

/** Work that is still to be done. */
export const isAhead = ({ status }: Request): boolean => !isEnded(status)

/** The requests an appointment rests on; else its own words. */
export function workOfAppointment(
  resource: Appointment,
  { resources, requests: known }: Reading,
  patient: Reference | undefined,
): IncomingWork[] | null {
  const references = [
    ...(resource.basedOn ?? []),
    ...(resource.reasonReference ?? []),
    ...(resource.supportingInformation ?? []),
    ...(resource.reason ?? []).map(({ reference }) => reference),
  ]
  const looked = references.map((reference) => lookRequest(reference, resources))
  const isOf = ({ subject }: Request): boolean =>
    subject === undefined || patient === undefined || whose(subject, resources) === whose(patient, resources)
  const named = looked.flatMap((each) =>
    each.kind === 'found' && isOf(each.resource) ? [each.resource] : [],
  )
  // Work that stands there and is not taken is told; other words do not stand in for it.
  if (named.length === 0 && looked.some(({ kind }) => kind !== 'absent')) return null
  const requests =
    named.length > 0 ? named : onlyAppointmentOf(resource, { resources, requests: known }, patient)
  for (const request of requests) known.linked.add(request)
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

function lookRequest(
  reference: Reference | undefined,
  resources: Resources,
): Looked<Request['resourceType']> {
  const asked = resources.look(reference, 'ServiceRequest')
  return asked.kind === 'absent' ? resources.look(reference, 'Procedure') : asked
}

const whose = (reference: Reference | undefined, resources: Resources): object | string =>
  reference === undefined ? '' : whoIs(reference, 'Patient', resources)

/** Requests by patient that no appointment names. */
function looseRequests(resources: Resources): Requests['loose'] {
  const loose: Requests['loose'] = new Map()
  for (const { line, resource, original } of [...resources.all, ...resources.held]) {
    if (resource.resourceType !== 'ServiceRequest' && resource.resourceType !== 'Procedure') continue
    if (!isAhead(resource)) continue
    const key = whose(resource.subject, resources)
    const before = loose.get(key)
    if (before) before.push({ line, request: resource, original })
    else loose.set(key, [{ line, request: resource, original }])
  }
  return loose
}

/** A request that no appointment names belongs to the patient's appointment where the file has exactly one. */
function onlyAppointmentOf(
  resource: Appointment,
  { resources, requests: { loose, visits } }: Reading,
  patient: Reference | undefined,
): Request[] {
  const who = whose(patient, resources)
  const found = loose.get(who)
  if (found === undefined || patient === undefined) return []
  const [only, ...more] = visits.get(who) ?? []
  return only === resource && more.length === 0 ? found.map(({ request }) => request) : []
}

function visitsByPatient(resources: Resources): Requests['visits'] {
  const visits: Requests['visits'] = new Map()
  for (const { resource } of resources.all) {
    if (resource.resourceType !== 'Appointment') continue
    for (const actor of actorsOf(resource, 'Patient', resources)) {
      const key = whose(actor, resources)
      const before = visits.get(key)
      if (before) before.push(resource)
      else visits.set(key, [resource])
    }
  }
  return visits
}

/** Requests that were read with an appointment are passed over by themselves; the others are told. */
export function tellLoose({ resources, requests: { linked, loose } }: Reading): IncomingProblem[] {
  const problems: IncomingProblem[] = []
  const held = new Set<unknown>(resources.held.map(({ resource }) => resource))
  for (const { line, request, original } of [...loose.values()].flat()) {
    const type = request.resourceType
    if (linked.has(request)) {
      if (!held.has(request)) resources.passedOver.add(line, `${type}: read with its appointment`)
    } else
      problems.push(
        problemOf(
          { line, field: 'basedOn', original },
          `No appointment of its patient in this file names this ${type}.`,
          'For which visit the work is meant cannot be known.',
          'Add the work to the right appointment by hand.',
        ),
      )
  }
  return problems
}

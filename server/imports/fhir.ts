import { coverageOf, type Incoming } from '#shared/schedule/incoming.ts'
import { decode, isMeantAsUtf8, markOf, sayLetters } from './decode.ts'
import { allergiesOf } from './fhir-allergies.ts'
import { type FhirFile, idOf, type Refused, readAppointment, unclearPatient } from './fhir-appointment.ts'
import { isBirthDay, noBirthDay } from './fhir-people.ts'
import { isAhead, openRequests, tellLoose } from './fhir-requests.ts'
import {
  foundInLines,
  MOST_RESOURCES,
  openResources,
  type Resources,
  type Unpacked,
  unpackJson,
} from './fhir-resources.ts'
import type { ResourceOf } from './fhir-schema.ts'
import { emptyIncoming, problemOf, type ReadOptions } from './incoming.ts'
import { refused } from './limits.ts'
import { chunksOf, type Line, type LineOptions, linesOf } from './ndjson-lines.ts'

/** A FHIR R4 Bundle or single resource (R5's names accepted), as bytes. */
export function parseFhir(bytes: Uint8Array, options: ReadOptions): Incoming {
  const decoded = decode(bytes)
  const incoming = readResources(unpackJson(decoded), { ...options, format: 'fhir' })
  return { ...incoming, assumed: [...sayLetters(decoded), ...incoming.assumed] }
}

/** One resource a line, as bulk exports write them. */
export const parseNdjson = (bytes: Uint8Array, options: ReadOptions): Incoming =>
  readNdjson(chunksOf(bytes), options, {
    meantAsUtf8: markOf(bytes) === 'utf-8' || isMeantAsUtf8(bytes),
  })

/**
 * The same of a file in pieces. Of each line only what an appointment can come to name is kept, so a file of any
 * length takes no more memory than that.
 */
export function readNdjson(
  chunks: Iterable<Uint8Array>,
  options: ReadOptions,
  known: LineOptions = {},
): Incoming {
  const western = { first: 0, count: 0 }
  function* lines(): Generator<Line> {
    for (const line of linesOf(chunks, known)) {
      if (line.letters === 'western' && western.count++ === 0) western.first = line.line
      yield line
    }
  }
  const incoming = readResources(
    { bundleType: null, isPage: false, found: foundInLines(lines()) },
    { ...options, format: 'ndjson' },
  )
  return {
    ...incoming,
    assumed: [...(western.count === 0 ? [] : [sayWestern(western)]), ...incoming.assumed],
  }
}

const sayWestern = ({ first, count }: { first: number; count: number }): string =>
  `Line ${first}${count === 1 ? ' is' : ` and ${count - 1} more are`} not UTF-8: the letters were read as windows-1252.`

function readResources(unpacked: Unpacked, options: ReadOptions & { format: 'fhir' | 'ndjson' }): Incoming {
  const resources = openResources(unpacked.found)
  const incoming: Incoming = {
    ...emptyIncoming(options.format),
    rows: resources.rows,
    problems: resources.problems,
  }
  if (resources.all.length > MOST_RESOURCES)
    return refused(
      incoming,
      `The file holds more than ${MOST_RESOURCES} patients, appointments and the like.`,
    )
  const reading: Reading = {
    incoming,
    resources,
    options,
    requests: openRequests(resources),
    ofSeveral: idsOfSeveral(resources),
  }
  for (const placed of resources.all) takeResource(reading, placed)
  incoming.problems.push(...tellLoose(reading))
  incoming.passedOver = resources.passedOver.all()
  if (incoming.appointments.length + incoming.allergies.length === 0 && incoming.problems.length === 0) {
    incoming.problems.push(nothingToRead(incoming.passedOver))
  }
  const many = incoming.appointments.length > 1
  const listed = unpacked.bundleType === 'searchset' || unpacked.bundleType === 'collection'
  const part = unpacked.isPage ? A_PAGE : options.format === 'ndjson' ? MAY_BE_CHANGES : null
  return {
    ...incoming,
    ...(part !== null && many ? { assumed: [part] } : {}),
    covers: listed && part === null && many ? coverageOf(incoming.appointments) : null,
  }
}
const A_PAGE = 'This is one page of a longer list: what it does not list is not asked.'
const MAY_BE_CHANGES =
  'Lines of resources do not say whether they are all or only what changed: what they do not list is not asked.'

interface Reading extends FhirFile {
  incoming: Incoming
  /** Ids of appointments under which more than one server of the file has one. */
  ofSeveral: Set<string | null>
}

/** R4, Resource.id (READ): an id is one only on its own server. */
function idsOfSeveral(resources: Resources): Reading['ofSeveral'] {
  const servers = new Map<string | null, string | null>()
  const several = new Set<string | null>()
  for (const { resource, server } of resources.all) {
    if (resource.resourceType !== 'Appointment') continue
    const id = idOf(resource)
    if (id !== null && servers.has(id) && servers.get(id) !== server) several.add(id)
    servers.set(id, server)
  }
  return several
}

interface PlacedResource {
  line: number
  resource: Resources['all'][number]['resource']
  original: string
}

function takeResource(reading: Reading, { line, resource, original }: PlacedResource): void {
  const { resources } = reading
  switch (resource.resourceType) {
    case 'Appointment':
      takeAppointment(reading, { line, resource, original })
      return
    case 'AllergyIntolerance':
      takeAllergy(reading, { line, resource, original })
      return
    case 'ServiceRequest':
    case 'Procedure':
      if (!isAhead(resource))
        resources.passedOver.add(line, `${resource.resourceType} ${resource.status}: not ahead`)
      return
    case 'Patient':
      if (!isBirthDay(resource))
        reading.incoming.problems.push(problemOf({ line, field: 'born', original }, ...noBirthDay(resource)))
      else resources.passedOver.add(line, 'Patient: read with what names it')
      return
    default:
      resources.passedOver.add(line, `${resource.resourceType}: read with what names it`)
  }
}

function takeAppointment(
  reading: Reading,
  { line, resource, original }: { line: number; resource: ResourceOf<'Appointment'>; original: string },
): void {
  if (resource.id !== undefined && reading.resources.deleted.has(resource.id)) {
    reading.resources.passedOver.add(line, 'an Appointment that the same file says is deleted')
    return
  }
  const read = reading.ofSeveral.has(idOf(resource))
    ? ofSeveralServers(resource)
    : readAppointment(resource, reading, line)
  if ('contentHash' in read) reading.incoming.appointments.push(read)
  else
    reading.incoming.problems.push(
      problemOf(
        { line, field: read.field, original, externalId: idOf(resource), ends: read.ends ?? null },
        ...read.parts,
      ),
    )
}

const ofSeveralServers = (resource: ResourceOf<'Appointment'>): Refused => ({
  field: 'id',
  parts: [
    `More than one server of this file has an appointment "${idOf(resource)}".`,
    'A change of the one would move the other.',
    'Bring what each server has as a source of its own.',
  ],
})

function takeAllergy(
  { incoming, ...file }: Reading,
  {
    line,
    resource,
    original,
  }: { line: number; resource: ResourceOf<'AllergyIntolerance'>; original: string },
): void {
  const unclear = unclearPatient(resource.patient, file.resources)
  if (unclear) incoming.problems.push(problemOf({ line, field: 'patient', original }, ...unclear))
  else incoming.allergies.push(...allergiesOf(resource, { line, file }))
}

function nothingToRead(passedOver: Incoming['passedOver']) {
  const kinds = [...new Set(passedOver.map(({ why }) => why.split(/[ :]/)[0]))].join(', ')
  return problemOf(
    { line: 1, field: 'file', original: '' },
    `The file holds ${kinds === '' ? 'no resources' : kinds} but no Appointment and no AllergyIntolerance.`,
    'There is nothing in it that changes the day.',
    'Export the appointments with their patients, and bring that file.',
  )
}

import type { IncomingProblem } from '#shared/schedule/incoming.ts'
import { type Decoded, LOST, lostLetter, plainText } from './decode.ts'
import { idOf } from './fhir-appointment.ts'
import { type AddressBook, baseOfReference, type Looked, openAddressBook } from './fhir-references.ts'
import {
  BUNDLE,
  type Bundle,
  type BundleEntry,
  isEnded,
  isKnownType,
  type KnownType,
  MODIFIED,
  type Reference,
  type Resource,
  type ResourceOf,
  SCHEMAS,
  WHICH,
} from './fhir-schema.ts'
import { openPassing, type Passing, problemOf } from './incoming.ts'
import { MOST_PROBLEMS } from './limits.ts'
import { type Line, LONGEST_LINE_BYTES } from './ndjson-lines.ts'

/** A resource of a file: its place from 1 (entry of a Bundle, line of NDJSON) and the address others call it by. */
interface Placed {
  line: number
  fullUrl: string | null
  json: unknown
  /** Letters of it are lost. */
  lost: boolean
  /** The address of what this entry says is deleted; then it holds no resource. */
  deletes?: string
  /** As it stands in the file, as much of it as is shown. */
  original: () => string
}

/** What a file holds, one after the other. */
export type Found = { kind: 'resource'; placed: Placed } | { kind: 'problem'; problem: IncomingProblem }

/** A file's resources, parsed, findable by reference. */
export interface Resources {
  /** `original` only of those that can come to be told of; `server` where the entry's address names one. */
  all: { line: number; resource: Resource; original: string; server: string | null }[]
  /** Work that stands within another resource: no row of its own. */
  held: { line: number; resource: Resource; original: string }[]
  problems: IncomingProblem[]
  passedOver: Passing
  rows: number
  /** Ids of appointments that the file says are deleted. */
  deleted: Set<string>
  look: <Type extends KnownType>(reference: Reference | undefined, type: Type) => Looked<Type>
  /** The same where only one that is there and was taken is of use. */
  find: <Type extends KnownType>(reference: Reference | undefined, type: Type) => ResourceOf<Type> | undefined
}

export interface Unpacked {
  /** The Bundle's own type; null for a single resource. */
  bundleType: string | null
  /** Whether it is one page of a longer list. */
  isPage: boolean
  found: Iterable<Found>
}

const MOST_NESTED = 3

/** A Bundle, a list of resources, or one resource, as text. */
export function unpackJson({ text, damaged }: Pick<Decoded, 'text' | 'damaged'>): Unpacked {
  const json = parseJsonText(text)
  if (!json.ok)
    return {
      bundleType: null,
      isPage: false,
      found: [{ kind: 'problem', problem: brokenFile(text, json.error) }],
    }
  const bundle = BUNDLE.safeParse(json.value)
  const bundleType = bundle.success ? (bundle.data.type ?? null) : null
  return {
    bundleType,
    isPage: bundle.success && isPage(bundle.data),
    found: foundIn(json.value, damaged),
  }
}

/** R4, Bundle.link and Bundle.total (READ): a link to the next page, or more matches than this one holds. */
function isPage({ link = [], total = 0, entry = [] }: Bundle): boolean {
  const matches = entry.filter(({ search }) => search?.mode !== 'include' && search?.mode !== 'outcome')
  return link.some(({ relation }) => relation === 'next') || total > matches.length
}

function* foundIn(json: unknown, damaged: boolean): Generator<Found> {
  let line = 0
  for (const found of resourcesIn(json, 0)) {
    line += 1
    const original = (): string => JSON.stringify(found.json) ?? ''
    const lost = damaged && `${found.fullUrl} ${original()}`.includes(LOST)
    yield { kind: 'resource', placed: { ...found, line, lost, original } }
  }
}

/** One resource a line. A line that is broken or endless is told and the others are read. */
export function* foundInLines(lines: Iterable<Line>): Generator<Found> {
  for (const { line, text, letters, original } of lines) {
    const json = text === null ? null : parseJsonText(text)
    const lost = letters === 'lost'
    if (json?.ok)
      yield { kind: 'resource', placed: { line, fullUrl: null, json: json.value, lost, original } }
    else yield { kind: 'problem', problem: json ? brokenLine(line, original()) : longLine(line, original()) }
  }
}

function* resourcesIn(
  json: unknown,
  depth: number,
  fullUrl: string | null = null,
): Generator<Pick<Placed, 'fullUrl' | 'json' | 'deletes'>> {
  if (Array.isArray(json)) {
    for (const each of json) yield { fullUrl: null, json: each }
    return
  }
  const bundle = BUNDLE.safeParse(json)
  if (!bundle.success || depth > MOST_NESTED) {
    yield { fullUrl, json }
    return
  }
  for (const entry of bundle.data.entry ?? []) {
    const { request, fullUrl = null } = entry
    if (request?.method === 'DELETE') yield { fullUrl, json: entry, deletes: request.url ?? fullUrl ?? '' }
    else yield* resourcesIn(withModifiers(entry), depth + 1, fullUrl)
  }
}

/** What turns the meaning of an entry round turns that of its resource. */
const withModifiers = ({ resource = null, modifierExtension = [] }: BundleEntry): unknown =>
  modifierExtension.length > 0 && typeof resource === 'object' ? { ...resource, modifierExtension } : resource

/** What a database text cannot hold, written as an escape. */
const HARMFUL_ESCAPE = /\\u(?:0000|d[89a-f])/i

const parseJsonText = (text: string): { ok: true; value: unknown } | { ok: false; error: unknown } => {
  try {
    const value: unknown = HARMFUL_ESCAPE.test(text) ? JSON.parse(text, plainValue) : JSON.parse(text)
    return { ok: true, value }
  } catch (error) {
    return { ok: false, error }
  }
}
const plainValue = (_: string, value: unknown): unknown =>
  typeof value === 'string' ? plainText(value) : value

function brokenFile(text: string, error: unknown): IncomingProblem {
  const position = Number(/position (\d+)/.exec(String(error))?.[1] ?? 0)
  return problemOf(
    {
      line: text.slice(0, position).split(/\r\n|\r|\n/).length,
      field: 'file',
      original: text.slice(Math.max(0, position - 200), position + 200),
    },
    'The file is not whole JSON: it breaks off or has a sign too many.',
    'A part of it may be missing, so it was not read and nothing was changed by it.',
    'Export it again from the system it comes from and bring the new file.',
  )
}

const brokenLine = (line: number, original: string): IncomingProblem =>
  problemOf(
    { line, field: 'line', original },
    'This line is not whole JSON.',
    'A part of it may be missing, so it was not read and nothing was changed by it.',
    'Export it again from the system it comes from and bring the new file.',
  )
const longLine = (line: number, original: string): IncomingProblem =>
  problemOf(
    { line, field: 'line', original },
    `This line is longer than ${LONGEST_LINE_BYTES / 1024 / 1024} MB.`,
    'It may hold a picture or a document; if it is an appointment, the appointment was not read.',
    'Export it without attachments and bring the new file, or enter the appointment by hand.',
  )

const typeOf = (json: unknown): string | null => textAt(json, 'resourceType') ?? null

/** More than any clinic's days rest on; a file that holds more is refused, so that what is kept of it has an end. */
export const MOST_RESOURCES = 100_000

/** Parses what is of a kind we read and keeps an address book of it. Stops where the file can only be refused. */
export function openResources(found: Iterable<Found>): Resources {
  const book = openAddressBook()
  const resources: Resources = {
    all: [],
    held: [],
    problems: [],
    passedOver: openPassing(),
    rows: 0,
    deleted: new Set(),
    look: book.look,
    find(reference, type) {
      const looked = book.look(reference, type)
      return looked.kind === 'found' ? looked.resource : undefined
    },
  }
  for (const each of found) {
    resources.rows += 1
    if (each.kind === 'problem') resources.problems.push(each.problem)
    else place(resources, book, each.placed)
    if (resources.all.length > MOST_RESOURCES || resources.problems.length > MOST_PROBLEMS) break
  }
  return resources
}

function place(resources: Resources, book: AddressBook, placed: Placed): void {
  const { line, json, deletes } = placed
  if (deletes !== undefined) {
    placeDeleted(resources, { line, deletes, original: placed.original() })
    return
  }
  const type = typeOf(json)
  if (type === null) resources.problems.push(noResource(line, placed.original()))
  else if (type === 'Bundle')
    resources.problems.push(
      refusedResource({ line, type, original: placed.original() }, BUNDLE.safeParse(json).error?.issues[0]),
    )
  else if (!isKnownType(type)) resources.passedOver.add(line, `${type} is not read here`)
  else {
    const resource = take(resources, book, { ...placed, type })
    if (resource === null) return
    resources.all.push({
      line,
      resource,
      original: TOLD.has(type) ? placed.original() : '',
      server: baseOfReference({ reference: placed.fullUrl ?? '' }),
    })
    const { contained = [] } = resource
    resource.contained = undefined
    contained.forEach((each, index) => {
      const held = typeOf(each)
      if (held === null || !isKnownType(held)) return
      const within = `contained.${index}.`
      const taken = take(resources, book, { ...placed, json: each, type: held, within })
      if (taken && isWork(held)) resources.held.push({ line, resource: taken, original: placed.original() })
    })
  }
}

/** A record that is gone says neither that its patient was cancelled nor that nobody comes: who it is of is asked. */
function placeDeleted(
  resources: Resources,
  { line, deletes, original }: { line: number; deletes: string; original: string },
): void {
  const [, type = 'Entry', id = null] =
    /(?:^|\/)([A-Z][A-Za-z]+)(?:\/([A-Za-z0-9.-]{1,64}))?(?:[/?].*)?$/.exec(deletes) ?? []
  if (type !== 'Appointment') {
    resources.passedOver.add(line, `${type}: said to be deleted`)
    return
  }
  if (id !== null) resources.deleted.add(id)
  resources.problems.push(
    problemOf(
      { line, field: 'request', original, externalId: id },
      `The file says that appointment "${id ?? deletes}" is deleted.`,
      'A record can be deleted because the visit is cancelled, or because it stands elsewhere: the patient may still come.',
      'Ask in the system it comes from, and cancel the appointment here if it is off.',
    ),
  )
}

/** Parses one and enters it, so that it is known to be there even where it is not taken; then that is told. */
function take(
  resources: Resources,
  book: AddressBook,
  { line, fullUrl, json, lost, type, within, original }: Placed & { type: KnownType; within?: string },
): Resource | null {
  const parsed = SCHEMAS[type].safeParse(json)
  const id = textAt(json, 'id')
  const address = { type, id, line, fullUrl, isContained: within !== undefined }
  if (lost) {
    book.enter(address, { resource: null, why: 'has a letter missing' })
    const where = { line, field: 'row', original: original(), externalId: externalIdIn(type, json) }
    resources.problems.push(problemOf(where, ...lostLetter('entry')))
    return null
  }
  if (parsed.success) {
    book.anchor(parsed.data, { line, fullUrl })
    book.enter(address, { resource: parsed.data })
    return parsed.data
  }
  const [issue] = parsed.error.issues
  const why = modifiedBy(issue)
  book.enter(address, { resource: null, why: why ?? 'cannot be read' })
  // A clinic's records hold thousands of patients of long ago and of work that is over. What names one is told.
  const isQuiet = why !== null && (type === 'Patient' || (isWork(type) && isEnded(textAt(json, 'status'))))
  if (!isQuiet) {
    const externalId = within === undefined ? externalIdIn(type, json) : null
    resources.problems.push(refusedResource({ line, type, original: original(), within, externalId }, issue))
  } else if (within === undefined) resources.passedOver.add(line, `${type} ${why}`)
  return null
}
/** What is refused of an appointment still lists it. */
const externalIdIn = (type: KnownType, json: unknown): string | null =>
  type === 'Appointment' ? idOf(WHICH.parse(json)) : null
const isWork = (type: KnownType): boolean => type === 'ServiceRequest' || type === 'Procedure'

function textAt(json: unknown, key: string): string | undefined {
  const value: unknown = typeof json === 'object' && json !== null ? Reflect.get(json, key) : undefined
  return typeof value === 'string' ? value : undefined
}

/** What turns the meaning of a resource round, to be said of it; null where it is something else that is wrong with it. */
const modifiedBy = (issue: { message: string } | undefined): string | null =>
  issue?.message.startsWith(MODIFIED) ? issue.message.slice(MODIFIED.length) : null

/** Kinds that can come to be told of though they could be read. */
const TOLD: ReadonlySet<KnownType> = new Set([
  'Appointment',
  'AllergyIntolerance',
  'ServiceRequest',
  'Procedure',
])

const noResource = (line: number, original: string): IncomingProblem =>
  problemOf(
    { line, field: 'resourceType', original },
    'This entry is not a FHIR resource.',
    'What it means cannot be known, so it was not taken.',
    'Export the Bundle again, or enter the appointment by hand.',
  )

function refusedResource(
  where: {
    line: number
    type: string
    original: string
    within?: string | undefined
    externalId?: string | null
  },
  issue: { path: PropertyKey[]; message: string } | undefined,
): IncomingProblem {
  const field = `${where.within ?? ''}${issue?.path.map(String).join('.') || 'resource'}`
  const modified = modifiedBy(issue)
  return problemOf(
    { line: where.line, field, original: where.original, externalId: where.externalId ?? null },
    modified === null
      ? `This ${where.type} cannot be read at "${field}": ${issue?.message ?? 'not as the standard says'}.`
      : `This ${where.type} ${modified}.`,
    modified === null
      ? 'Taken as it is it could mean something else than its writer meant.'
      : 'That turns the meaning of the whole entry round, so it was not taken and nothing was read from it.',
    'Mend it in the system it comes from, or enter the appointment by hand.',
  )
}

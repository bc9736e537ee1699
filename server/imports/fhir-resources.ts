import type { IncomingProblem, PassedOver } from '#shared/schedule/incoming.ts'
import { plainText } from './decode.ts'
import {
  BUNDLE,
  isKnownType,
  type KnownType,
  type Reference,
  type Resource,
  type ResourceOf,
  SCHEMAS,
} from './fhir-schema.ts'
import { problemOf } from './incoming.ts'

/** A resource of a file: its place from 1 (entry of a Bundle, line of NDJSON) and the address others call it by. */
export interface Placed {
  line: number
  fullUrl: string | null
  json: unknown
}

/** A file's resources, parsed, findable by reference. */
export interface Resources {
  all: { line: number; resource: Resource; original: string }[]
  problems: IncomingProblem[]
  passedOver: PassedOver[]
  rows: number
  find: <Type extends KnownType>(reference: Reference | undefined, type: Type) => ResourceOf<Type> | undefined
}

export interface Unpacked {
  /** The Bundle's own type; null for NDJSON or a single resource. */
  bundleType: string | null
  placed: Placed[]
  problems: IncomingProblem[]
}

const MOST_NESTED = 3

/** A Bundle, a list of resources, or one resource, as text. */
export function unpackJson(text: string): Unpacked {
  const json = parseJsonText(text)
  if (!json.ok) return { bundleType: null, placed: [], problems: [json.problem] }
  const bundle = BUNDLE.safeParse(json.value)
  const bundleType = bundle.success ? (bundle.data.type ?? null) : null
  const placed = [...resourcesIn(json.value, 0)].map((found, index) => ({ ...found, line: index + 1 }))
  return { bundleType, placed, problems: [] }
}

/** One resource a line. A line that is broken is told and the others are read. */
export function unpackNdjson(text: string): Unpacked {
  const unpacked: Unpacked = { bundleType: null, placed: [], problems: [] }
  for (const [index, row] of text.split(/\r\n|\r|\n/).entries()) {
    if (row.trim() === '') continue
    const json = parseJsonText(row, index + 1)
    if (json.ok) unpacked.placed.push({ line: index + 1, fullUrl: null, json: json.value })
    else unpacked.problems.push(json.problem)
  }
  return unpacked
}

function* resourcesIn(
  json: unknown,
  depth: number,
  fullUrl: string | null = null,
): Generator<Omit<Placed, 'line'>> {
  if (Array.isArray(json)) {
    for (const each of json) yield { fullUrl: null, json: each }
    return
  }
  const bundle = BUNDLE.safeParse(json)
  if (!bundle.success || depth > MOST_NESTED) {
    yield { fullUrl, json }
    return
  }
  for (const entry of bundle.data.entry ?? [])
    yield* resourcesIn(entry.resource ?? null, depth + 1, entry.fullUrl ?? null)
}

type ParsedJson = { ok: true; value: unknown } | { ok: false; problem: IncomingProblem }

/** JSON whose strings hold nothing that no database text can hold. */
export function parseJsonText(text: string, line?: number): ParsedJson {
  try {
    return {
      ok: true,
      value: JSON.parse(text, (_, value) => (typeof value === 'string' ? plainText(value) : value)),
    }
  } catch (error) {
    const position = Number(/position (\d+)/.exec(String(error))?.[1] ?? 0)
    const where = line ?? text.slice(0, position).split(/\r\n|\r|\n/).length
    return {
      ok: false,
      problem: problemOf(
        {
          line: where,
          field: 'file',
          original: line === undefined ? text.slice(Math.max(0, position - 200), position + 200) : text,
        },
        line === undefined
          ? 'The file is not whole JSON: it breaks off or has a sign too many.'
          : 'This line is not whole JSON.',
        'A part of it may be missing, so it was not read and nothing was changed by it.',
        'Export it again from the system it comes from and bring the new file.',
      ),
    }
  }
}

const typeOf = (json: unknown): string | null =>
  typeof json === 'object' && json !== null && 'resourceType' in json && typeof json.resourceType === 'string'
    ? json.resourceType
    : null

/** Parses what is of a kind we read and keeps an address book of it. */
export function openResources({ placed, problems }: Unpacked): Resources {
  const addresses = new Map<string, Resource>()
  const resources: Resources = {
    all: [],
    problems: [...problems],
    passedOver: [],
    rows: placed.length + problems.filter(({ field }) => field === 'file').length,
    find: (reference, type) => findIn(addresses, reference, type),
  }
  for (const { line, fullUrl, json } of placed) {
    const type = typeOf(json)
    const original = JSON.stringify(json) ?? ''
    if (type === null) resources.problems.push(noResource(line, original))
    else if (!isKnownType(type)) resources.passedOver.push({ line, why: `${type} is not read here` })
    else {
      const parsed = SCHEMAS[type].safeParse(json)
      if (parsed.success) {
        resources.all.push({ line, resource: parsed.data, original })
        for (const address of addressesOf(parsed.data, fullUrl)) addresses.set(address, parsed.data)
      } else resources.problems.push(refusedResource({ line, type, original }, parsed.error.issues[0]))
    }
  }
  return resources
}

const noResource = (line: number, original: string): IncomingProblem =>
  problemOf(
    { line, field: 'resourceType', original },
    'This entry is not a FHIR resource.',
    'What it means cannot be known, so it was not taken.',
    'Export the Bundle again, or enter the appointment by hand.',
  )

function refusedResource(
  where: { line: number; type: string; original: string },
  issue: { path: PropertyKey[]; message: string } | undefined,
): IncomingProblem {
  const field = issue?.path.map(String).join('.') || 'resource'
  const modifier = field.startsWith('modifierExtension')
  return problemOf(
    { line: where.line, field, original: where.original },
    modifier
      ? `This ${where.type} carries a modifier extension that is not known here.`
      : `This ${where.type} cannot be read at "${field}": ${issue?.message ?? 'not as the standard says'}.`,
    modifier
      ? 'Such an extension can turn the meaning of the whole entry round.'
      : 'Taken as it is it could mean something else than its writer meant.',
    'Mend it in the system it comes from, or enter the appointment by hand.',
  )
}

const addressesOf = (resource: Resource, fullUrl: string | null): string[] => [
  ...(fullUrl === null ? [] : [fullUrl]),
  ...(resource.id === undefined
    ? []
    : [`${resource.resourceType}/${resource.id}`, `urn:uuid:${resource.id}`]),
]

function findIn<Type extends KnownType>(
  addresses: Map<string, Resource>,
  reference: Reference | undefined,
  type: Type,
): ResourceOf<Type> | undefined {
  const address = reference?.reference
  if (address === undefined) return undefined
  const found = addresses.get(address) ?? addresses.get(relative(address) ?? '')
  return found?.resourceType === type ? (found as ResourceOf<Type>) : undefined
}

/** `Type/id` at the end of an absolute address, without a version. */
const relative = (address: string): string | null =>
  /(?:^|\/)([A-Z][A-Za-z]+\/[A-Za-z0-9.-]{1,64})(?:\/_history\/.*)?$/.exec(address)?.[1] ?? null

/** The kind of resource a reference names, where it says so. */
export const typeOfReference = (reference: Reference | undefined): string | null =>
  relative(reference?.reference ?? '')?.split('/')[0] ?? null
/** `Type/id`, the steadiest name a reference has. */
export const nameOfReference = (reference: Reference | undefined): string | null =>
  relative(reference?.reference ?? '')

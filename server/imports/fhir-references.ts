import { canonicalJson } from '#shared/base/canonical.ts'
import type { KnownType, Reference, Resource, ResourceOf } from './fhir-schema.ts'

/** What a reference leads to in a file: one resource, none, several that fit, or one that was not taken, and why. */
export type Looked<Type extends KnownType> =
  | { kind: 'found'; resource: ResourceOf<Type> }
  | { kind: 'absent' }
  | { kind: 'several' }
  | { kind: 'refused'; why: string }

/** A resource's place: from 1, with the address others call it by, or as `#id` within the one that holds it. */
export interface Address {
  type: KnownType
  id: string | undefined
  line: number
  fullUrl: string | null
  isContained: boolean
}

/** A file's resources by what refers to them. */
export interface AddressBook {
  enter: (address: Address, taken: Taken) => void
  /** Writes each reference within a value as it is read from there: whole, or by the resource that holds it. */
  anchor: (value: unknown, at: Pick<Address, 'line' | 'fullUrl'>) => void
  look: <Type extends KnownType>(reference: Reference | undefined, type: Type) => Looked<Type>
}

/** A resource, or why it was not taken, to be said of it: "is no longer in use". */
export type Taken = { resource: Resource; why?: never } | { resource: null; why: string }
type Entered = Taken & { type: KnownType }

/**
 * References by HL7 FHIR R4 (Bundle 2.36.4.1; Reference.reference and Bundle.entry.fullUrl READ in its definitions): a
 * relative one is read against the base of the `fullUrl` of the entry that holds it, an absolute one meets a `fullUrl`
 * and nothing else, one with a version that version. Where no base is given (NDJSON, a Bundle of `urn:uuid`) `Type/id`
 * meets what has no base either. What several fit is not chosen from.
 */
export function openAddressBook(): AddressBook {
  const places = new Map<string, Entered[]>()
  const all: Resource[] = []
  const bases = new Set<string>()
  let hasFullUrls = false
  let byIdentifier: Map<string, Entered[]> | null = null

  /** Without any `fullUrl` an absolute reference is met by `Type/id`, so long as all are of one server. */
  const placesOf = (address: string): Entered[] => {
    const found = places.get(address)
    if (found || hasFullUrls || bases.size !== 1) return found ?? []
    return places.get(partsOf(address)?.name ?? '') ?? []
  }
  const identified = ({ identifier }: Reference): Entered[] => {
    if (identifier?.value === undefined) return []
    byIdentifier ??= indexOf(all)
    return byIdentifier.get(identifierKey(identifier)) ?? []
  }

  return {
    enter(address, taken) {
      hasFullUrls ||= address.fullUrl !== null
      byIdentifier = null
      if (taken.resource && !address.isContained) all.push(taken.resource)
      for (const key of keysOf(address)) add(places, key, { ...taken, type: address.type })
    },
    anchor(value, { line, fullUrl }) {
      const base = partsOf(fullUrl ?? '')?.base ?? ''
      for (const reference of referencesIn(value)) {
        const parts = partsOf(reference.reference)
        if (reference.reference.startsWith('#')) reference.reference = `entry-${line}${reference.reference}`
        else if (parts?.base) bases.add(parts.base)
        else if (parts) reference.reference = base + reference.reference
      }
    },
    look<Type extends KnownType>(reference: Reference | undefined, type: Type): Looked<Type> {
      if (reference === undefined) return { kind: 'absent' }
      const [address = '', version] = (reference.reference ?? '').split('/_history/')
      const fit = placesOf(address).filter((each) => each.type === type && isVersion(each, version))
      return oneOf(fit.length > 0 ? fit : identified(reference).filter((each) => each.type === type))
    },
  }
}

const add = <Key, Value>(map: Map<Key, Value[]>, key: Key, value: Value): void => {
  const before = map.get(key)
  if (before) before.push(value)
  else map.set(key, [value])
}

function keysOf({ type, id, line, fullUrl, isContained }: Address): string[] {
  if (isContained) return id === undefined ? [] : [`entry-${line}#${id}`]
  const keys = fullUrl === null ? [] : [fullUrl]
  if (id === undefined || partsOf(fullUrl ?? '')?.base) return keys
  return [...new Set([...keys, `${type}/${id}`, ...(fullUrl === null ? [`urn:uuid:${id}`] : [])])]
}

/** The same resource twice is one; two that differ are not chosen from. */
function oneOf<Type extends KnownType>(fit: Entered[]): Looked<Type> {
  const [first] = fit
  if (first === undefined) return { kind: 'absent' }
  for (const { resource, why } of fit) if (resource === null) return { kind: 'refused', why }
  if (fit.length > 1 && new Set(fit.map(({ resource }) => canonicalJson(resource))).size > 1)
    return { kind: 'several' }
  return { kind: 'found', resource: first.resource as ResourceOf<Type> }
}

/** R4: a reference with a version meets `meta.versionId`. */
const isVersion = ({ resource }: Entered, version: string | undefined): boolean =>
  version === undefined || (resource?.meta?.versionId ?? version) === version

const identifierKey = ({ system, value }: { system?: string | undefined; value?: string | undefined }) =>
  `${system ?? ''}\n${value ?? ''}`

function indexOf(all: Resource[]): Map<string, Entered[]> {
  const index = new Map<string, Entered[]>()
  for (const resource of all)
    for (const each of resource.identifier ?? [])
      if (each.value !== undefined && each.use !== 'old')
        add(index, identifierKey(each), { type: resource.resourceType, resource })
  return index
}

/** Every literal reference within a value, however deep. */
function* referencesIn(value: unknown): Generator<{ reference: string }> {
  if (typeof value !== 'object' || value === null) return
  if (holdsReference(value)) yield value
  for (const each of Object.values(value)) yield* referencesIn(each)
}
const holdsReference = (value: object): value is { reference: string } =>
  'reference' in value && typeof value.reference === 'string'

/** `Type/id`, with the base before it where the address is absolute; a version is no part of it. */
function partsOf(address: string): { base: string; type: string; name: string } | null {
  const found = /^(https?:\/\/[^?#]*\/)?([A-Z][A-Za-z]+)\/([A-Za-z0-9.-]{1,64})(?:\/_history\/[^/]*)?$/.exec(
    address,
  )
  return found ? { base: found[1] ?? '', type: found[2] ?? '', name: `${found[2]}/${found[3]}` } : null
}

/** The kind of resource a reference names, where it says so. */
export const typeOfReference = (reference: Reference | undefined): string | null =>
  partsOf(reference?.reference ?? '')?.type ?? reference?.type ?? null
/** `Type/id`, the steadiest name a reference has. */
export const nameOfReference = (reference: Reference | undefined): string | null =>
  partsOf(reference?.reference ?? '')?.name ?? null
/** The server that a reference names; null where it names none. */
export const baseOfReference = (reference: Reference | undefined): string | null =>
  partsOf(reference?.reference ?? '')?.base || null

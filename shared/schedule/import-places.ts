import type { World } from '../facts.ts'
import type { MemberId, OperatoryId } from '../ids.ts'
import { type ImportSource, type Named, nameKey, plainName } from './import-batch.ts'
import { noDentist, noOperatory, rowProblem } from './import-problems.ts'
import type { IncomingAppointment, IncomingProblem } from './incoming.ts'

/** A name whose meaning here nobody has said yet, in the file's words, and how many rows use it. */
export interface UnknownName {
  kind: Named
  name: string
  rows: number
}

/** The source's names for places and people, each looked up once. */
export interface Places {
  operatoryOf: (name: string) => OperatoryId | null
  /** The place a row names; one that is not known is asked about. */
  operatoryFor: (incoming: IncomingAppointment) => OperatoryId | null
  dentistFor: (incoming: IncomingAppointment) => MemberId | null
  /** Rows that name what is not known. */
  problems: IncomingProblem[]
  unknown: () => UnknownName[]
}

export function openPlaces(world: World, source: ImportSource): Places {
  const operatories = new Map<string, OperatoryId | null>()
  const dentists = new Map<string, MemberId | null>()
  const problems: IncomingProblem[] = []
  const names = new Map<string, UnknownName>()
  const ask = (incoming: IncomingAppointment, { kind, name }: Omit<UnknownName, 'rows'>): void => {
    const key = nameKey(kind, name)
    const known = names.get(key) ?? { kind, name, rows: 0 }
    names.set(key, { ...known, rows: known.rows + 1 })
    problems.push(rowProblem(incoming, kind, kind === 'operatory' ? noOperatory(name) : noDentist(name)))
  }
  const operatoryOf: Places['operatoryOf'] = (name) =>
    lookUp(operatories, name, () => findOperatory(world, source, name))
  return {
    operatoryOf,
    operatoryFor: (incoming) => {
      const name = incoming.operatory
      if (name === null) return null
      const found = operatoryOf(name)
      // A clinic without operatories yet has nothing to compare a name with.
      if (found === null && world.operatory.length > 0) ask(incoming, { kind: 'operatory', name })
      return found
    },
    dentistFor: (incoming) => {
      const name = incoming.dentist
      if (name === null) return null
      const found = lookUp(dentists, name, () => findDentist(world, source, name))
      if (found === null && world.member.length > 0) ask(incoming, { kind: 'dentist', name })
      return found
    },
    problems,
    unknown: () => [...names.values()],
  }
}

function lookUp<T>(known: Map<string, T>, name: string, find: () => T): T {
  const standing = known.get(name)
  if (standing !== undefined) return standing
  const found = find()
  known.set(name, found)
  return found
}

/** By what a person has said it means, else by name; "Room 3", "Op 3" and "3" are one. */
function findOperatory(world: World, { mapping }: ImportSource, name: string): OperatoryId | null {
  const mapped = mapping[nameKey('operatory', name)]
  const inUse = world.operatory.filter(({ retiredAt }) => (retiredAt ?? null) === null)
  if (mapped !== undefined) return inUse.find(({ id }) => id === mapped)?.id ?? null
  const [only, ...more] = inUse.filter((operatory) => bareRoom(operatory.name) === bareRoom(name))
  return only && more.length === 0 ? only.id : null
}
const bareRoom = (name: string): string =>
  plainName(name).replace(/^(operatory|op|room|chair|surgery|bay) (?=\S)/, '')

/** By what a person has said it means, else by name or short name, titles left out. */
function findDentist(world: World, { mapping }: ImportSource, name: string): MemberId | null {
  const mapped = mapping[nameKey('dentist', name)]
  if (mapped !== undefined) return world.member.find(({ id }) => id === mapped)?.id ?? null
  const plain = bareTitle(name)
  const [only, ...more] = world.member.filter(
    (member) => bareTitle(member.name) === plain || bareTitle(member.shortName) === plain,
  )
  return only && more.length === 0 ? only.id : null
}
const bareTitle = (name: string): string => plainName(name).replace(/^((dr|prof|mr|mrs|ms|miss) )+(?=\S)/, '')

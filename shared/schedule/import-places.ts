import type { World } from '../facts.ts'
import type { MemberId, OperatoryId } from '../ids.ts'
import { type ImportSource, nameKey, plainName } from './import-batch.ts'

/** The source's names for places and people, each looked up once. */
export interface Places {
  operatoryOf: (name: string) => OperatoryId | null
  dentistOf: (name: string) => MemberId | null
}

export function openPlaces(world: World, source: ImportSource): Places {
  const operatories = new Map<string, OperatoryId | null>()
  const dentists = new Map<string, MemberId | null>()
  return {
    operatoryOf: (name) => lookUp(operatories, name, () => findOperatory(world, source, name)),
    dentistOf: (name) => lookUp(dentists, name, () => findDentist(world, source, name)),
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

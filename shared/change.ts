import { FACT_NAMES, type FactName, type Facts, type World } from './facts.ts'

/** What a command does: facts put whole, ids removed. One value for table, journal, wire and screen. */
export interface Change {
  put: { [Name in FactName]?: Facts[Name][] }
  remove: { [Name in FactName]?: string[] }
}

export const nothing: Change = { put: {}, remove: {} }

/** A change that puts facts of one kind. */
export const putting = <Name extends FactName>(name: Name, ...facts: Facts[Name][]): Change => ({
  put: facts.length === 0 ? {} : ({ [name]: facts } as Change['put']),
  remove: {},
})

export const removing = (name: FactName, ...ids: string[]): Change => ({
  put: {},
  remove: ids.length === 0 ? {} : { [name]: ids },
})

export const isEmpty = (change: Change): boolean =>
  FACT_NAMES.every((name) => !change.put[name]?.length && !change.remove[name]?.length)

type Row = { id: string }
const rows = (facts: unknown): Row[] => (facts ?? []) as Row[]

/** The world after a change. Untouched kinds keep their array, so a screen can tell what moved. */
export function applyChange(world: World, change: Change): World {
  const next = { ...world } as Record<FactName, Row[]>
  for (const name of FACT_NAMES) {
    const put = rows(change.put[name])
    const remove = change.remove[name] ?? []
    if (put.length === 0 && remove.length === 0) continue
    const incoming = new Map(put.map((fact) => [fact.id, fact]))
    const gone = new Set(remove)
    const kept = rows(world[name])
      .filter((fact) => !gone.has(fact.id))
      .map((fact) => {
        const newer = incoming.get(fact.id)
        incoming.delete(fact.id)
        return newer ?? fact
      })
    next[name] = [...kept, ...incoming.values()]
  }
  return next as unknown as World
}

/** Both changes as one: the later wins where they touch the same fact. */
export function joinChanges(...changes: Change[]): Change {
  const put: Partial<Record<FactName, Row[]>> = {}
  const remove: Partial<Record<FactName, string[]>> = {}
  for (const name of FACT_NAMES) {
    const last = new Map<string, Row | null>()
    for (const change of changes) {
      for (const id of change.remove[name] ?? []) last.set(id, null)
      for (const fact of rows(change.put[name])) last.set(fact.id, fact)
    }
    const kept = [...last.values()].filter((fact) => fact !== null)
    const gone = [...last].filter(([, fact]) => fact === null).map(([id]) => id)
    if (kept.length > 0) put[name] = kept
    if (gone.length > 0) remove[name] = gone
  }
  return { put: put as Change['put'], remove }
}

/** What stood in the world where the change will write: its reverse, kept in the journal as `before`. */
export function standingBefore(world: World, change: Change): Change {
  const put: Partial<Record<FactName, Row[]>> = {}
  const remove: Partial<Record<FactName, string[]>> = {}
  for (const name of FACT_NAMES) {
    const touched = new Set([
      ...rows(change.put[name]).map((fact) => fact.id),
      ...(change.remove[name] ?? []),
    ])
    if (touched.size === 0) continue
    const stood = rows(world[name]).filter((fact) => touched.has(fact.id))
    for (const fact of stood) touched.delete(fact.id)
    if (stood.length > 0) put[name] = stood
    if (touched.size > 0) remove[name] = [...touched]
  }
  return { put: put as Change['put'], remove }
}

import { getTableColumns, getTableName } from 'drizzle-orm'
import { emptyWorld, FACT_NAMES, type FactName, type Facts, type World } from '#shared/facts.ts'
import type { ClinicId } from '#shared/ids.ts'
import type { Tx } from './database.ts'
import { snake } from './rows.ts'
import { tables } from './tables.ts'

const selectOf = (name: FactName): string => {
  const columns = Object.keys(getTableColumns(tables[name])).map((key) => `"${snake(key)}" as "${key}"`)
  return `select ${columns.join(', ')} from "${getTableName(tables[name])}" where "clinic_id" = $1`
}
const SELECT = Object.fromEntries(FACT_NAMES.map((name) => [name, selectOf(name)])) as Record<
  FactName,
  string
>

/** A condition and its parameters; the clinic is always `$1`. */
export interface Where {
  sql: string
  values: readonly (string | number)[]
}

export const everywhere: Where = { sql: 'true', values: [] }

/** The facts of one kind of one clinic, as they stand. The statement is prepared once per connection. */
export async function selectFacts<Name extends FactName>(
  tx: Tx,
  clinicId: ClinicId,
  { name, where }: { name: Name; where: Where },
): Promise<Facts[Name][]> {
  const rows = await tx.unsafe<Facts[Name][] & Record<string, unknown>[]>(
    `${SELECT[name]} and (${where.sql})`,
    [clinicId, ...where.values],
    { prepare: true },
  )
  return [...rows]
}

/** The ids that a statement selects. */
export async function selectIds(tx: Tx, clinicId: ClinicId, where: Where): Promise<string[]> {
  const rows = await tx.unsafe<{ id: string }[]>(where.sql, [clinicId, ...where.values], { prepare: true })
  return rows.map((row) => row.id)
}

/** What is to be read, kind by kind; a kind that is not named is not read. */
export type Wanted = Partial<Record<FactName, Where>>
/** Lists of ids by a name of their own, that conditions and later lists may ask for: `any(array(select id from name))`. */
export type Lists = Record<string, Where>

/** Facts by kind as the database's own JSON: for a thread in which they are to be parsed. */
export type WorldTexts = Partial<Record<FactName, string>>

/** The world that texts tell. */
export function parseWorld(texts: WorldTexts): World {
  const told = Object.entries(texts).map(([name, text]) => [name, JSON.parse(text)])
  return { ...emptyWorld(), ...(Object.fromEntries(told) as Partial<World>) }
}

/**
 * Facts of several kinds in one statement and one round trip: an array of facts per kind, as JSON. Every column of
 * a fact is told by JSON as it stands in the fact, so a fact read so equals one read by itself.
 */
export async function selectWanted(
  tx: Tx,
  clinicId: ClinicId,
  wanted: Wanted,
  lists: Lists = {},
): Promise<World> {
  const { withLists, kinds, values } = statementOf(clinicId, wanted, lists)
  if (kinds.length === 0) return emptyWorld()
  const told = kinds.map(({ name, sql }) => `'${name}', ${sql}`)
  const rows = await tx.unsafe<{ world: Partial<World> }[]>(
    `${withLists}select json_build_object(${told.join(', ')}) as world`,
    values,
    { prepare: true },
  )
  return { ...emptyWorld(), ...rows[0]?.world }
}

/** The same as texts, not parsed: of thousands of facts that alone holds up everybody else. */
export async function selectTexts(
  tx: Tx,
  clinicId: ClinicId,
  wanted: Wanted,
  lists: Lists = {},
): Promise<WorldTexts> {
  const { withLists, kinds, values } = statementOf(clinicId, wanted, lists)
  if (kinds.length === 0) return {}
  const told = kinds.map(({ name, sql }) => `${sql}::text as "${name}"`)
  const [row] = await tx.unsafe<WorldTexts[]>(`${withLists}select ${told.join(', ')}`, values, {
    prepare: true,
  })
  return { ...row }
}

function statementOf(
  clinicId: ClinicId,
  wanted: Wanted,
  lists: Lists,
): { withLists: string; kinds: { name: FactName; sql: string }[]; values: (string | number)[] } {
  const values: (string | number)[] = [clinicId]
  const place = ({ sql, values: own }: Where): string => {
    const first = values.length - 1
    values.push(...own)
    return first === 0 ? sql : sql.replace(/\$(\d+)/g, (as, n) => (n === '1' ? as : `$${Number(n) + first}`))
  }
  const named = Object.entries(lists).map(([name, where]) => `${name} as materialized (${place(where)})`)
  const kinds = FACT_NAMES.flatMap((name) => {
    const where = wanted[name]
    if (!where) return []
    const sql = `(select coalesce(json_agg(fact), '[]') from (${SELECT[name]} and (${place(where)})) as fact)`
    return [{ name, sql }]
  })
  return { withLists: named.length > 0 ? `with ${named.join(', ')} ` : '', kinds, values }
}

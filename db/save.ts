import { getTableColumns, getTableName } from 'drizzle-orm'
import { assert } from '#shared/base/assert.ts'
import type { Change } from '#shared/change.ts'
import { FACT_NAMES, type FactName } from '#shared/facts.ts'
import type { ClinicId } from '#shared/ids.ts'
import { snake } from './columns.ts'
import type { Tx } from './database.ts'
import { tables } from './tables.ts'

interface Statements {
  put: string
  remove: string
}

/** Facts travel as one JSON text per kind, however many they are. */
function statementsFor(name: FactName): Statements {
  const table = `"${getTableName(tables[name])}"`
  const columns = Object.keys(getTableColumns(tables[name])).map((key) => `"${snake(key)}"`)
  const update = columns
    .filter((column) => column !== '"clinic_id"' && column !== '"id"')
    .map((column) => `${column} = excluded.${column}`)
  return {
    put: `insert into ${table} (${columns.join(', ')})
      select ${columns.join(', ')} from jsonb_populate_recordset(null::${table}, $1::jsonb)
      on conflict ("clinic_id", "id") do update set ${update.join(', ')}
      returning "id", (xmax = 0) as "fresh"`,
    remove: `delete from ${table} where "clinic_id" = $1 and "id" = any($2::uuid[])`,
  }
}
const STATEMENTS = Object.fromEntries(FACT_NAMES.map((name) => [name, statementsFor(name)])) as Record<
  FactName,
  Statements
>

const asRow = (fact: object): object =>
  Object.fromEntries(Object.entries(fact).map(([key, value]) => [snake(key), value]))

/** A list of ids as PostgreSQL writes an array; ids are UUIDs and hold nothing that needs quoting. */
export const listOf = (values: readonly string[]): string => `{${values.join(',')}}`

/**
 * Keeps a change: what is removed goes first, then facts in the order in which they may point at each other.
 * A fact that `before` calls new must not have been there: the decision would have been made without it.
 */
export async function save(
  tx: Tx,
  clinicId: ClinicId,
  { change, before }: { change: Change; before: Change },
): Promise<void> {
  const removed = [...FACT_NAMES].reverse().flatMap((name) => {
    const ids = change.remove[name] ?? []
    return ids.length > 0
      ? [tx.unsafe(STATEMENTS[name].remove, [clinicId, listOf(ids)], { prepare: true })]
      : []
  })
  const put = FACT_NAMES.flatMap((name) => {
    const facts: object[] = change.put[name] ?? []
    return facts.length > 0 ? [putFacts(tx, { name, facts, unknown: before.remove[name] ?? [] })] : []
  })
  await Promise.all([...removed, ...put])
}

async function putFacts(
  tx: Tx,
  { name, facts, unknown }: { name: FactName; facts: object[]; unknown: readonly string[] },
): Promise<void> {
  const kept = await tx.unsafe<{ id: string; fresh: boolean }[]>(
    STATEMENTS[name].put,
    [JSON.stringify(facts.map(asRow))],
    { prepare: true },
  )
  const news = new Set(unknown)
  for (const row of kept) {
    assert(row.fresh === news.has(row.id), `${name} ${row.id} was decided on without being read`)
  }
}

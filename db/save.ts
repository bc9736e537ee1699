import { getTableColumns, getTableName } from 'drizzle-orm'
import { assert } from '#shared/base/assert.ts'
import type { Change } from '#shared/change.ts'
import { FACT_NAMES, type FactName } from '#shared/facts.ts'
import type { ClinicId } from '#shared/ids.ts'
import type { Tx } from './database.ts'
import { type Rows, rowsOf, snake } from './rows.ts'
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

/** A list of ids as PostgreSQL writes an array; ids are UUIDs and hold nothing that needs quoting. */
export const listOf = (values: readonly string[]): string => `{${values.join(',')}}`

/** Keeps a change of which `before` says what stood there. */
export const save = (
  tx: Tx,
  clinicId: ClinicId,
  { change, before }: { change: Change; before: Change },
): Promise<void> => saveRows(tx, clinicId, rowsOf(change, before))

/**
 * Keeps rows: what is removed goes first, then facts in the order in which they may point at each other.
 * A fact that is called fresh must not have been there: the decision would have been made without it.
 */
export async function saveRows(tx: Tx, clinicId: ClinicId, { put, remove }: Rows): Promise<void> {
  const removed = remove.map(({ name, ids }) =>
    tx.unsafe(STATEMENTS[name].remove, [clinicId, listOf(ids)], { prepare: true }),
  )
  await Promise.all([...removed, ...put.map((rows) => putFacts(tx, rows))])
}

async function putFacts(tx: Tx, { name, text, fresh }: Rows['put'][number]): Promise<void> {
  const kept = await tx.unsafe<{ id: string; fresh: boolean }[]>(STATEMENTS[name].put, [text], {
    prepare: true,
  })
  const news = new Set(fresh)
  for (const row of kept) {
    assert(row.fresh === news.has(row.id), `${name} ${row.id} was decided on without being read`)
  }
}

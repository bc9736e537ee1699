import { getTableColumns, getTableName } from 'drizzle-orm'
import { FACT_NAMES, type FactName, type Facts } from '#shared/facts.ts'
import type { ClinicId } from '#shared/ids.ts'
import { snake } from './columns.ts'
import type { Tx } from './database.ts'
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

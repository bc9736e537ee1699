import type { Sql } from 'postgres'
import type { ClinicId } from '#shared/ids.ts'
import { DAY } from './clinic.ts'

const A_DAY = 100
const JOURNAL_ROWS = 6
const LINES = 3
const VISITS_OF_A_PATIENT = 10
/** So many appointments at a time, that a transaction stays small. */
const AT_ONCE = 50_000

/** What grows with the past. */
export const HISTORY = [
  'appointment',
  'patient',
  'work',
  'tray',
  'tray_line',
  'journal',
  'journal_appointment',
] as const
type Table = (typeof HISTORY)[number]

/** The number of a row as its id, behind those of the day. */
const asId = (number: string): string =>
  `('ffffffff-ffff-4fff-8fff-' || lpad(to_hex(${number}), 12, '0'))::uuid`
const PATIENT = asId(`n / ${VISITS_OF_A_PATIENT}`)

/** Behind the last entry of the day; the clock is set when all are there. */
const REVISION = `(select revision from clock) + n::bigint * ${JOURNAL_ROWS} + k + 1`

/**
 * A row of the day of each kind, told again so many times: what a column holds where it differs, by `n`, the number of
 * the appointment, and `k`, that of its row among several.
 */
const TOLD: Record<Table, { rows: number; columns: Record<string, string> }> = {
  patient: { rows: 1, columns: { id: PATIENT } },
  appointment: {
    rows: 1,
    columns: {
      id: asId('n'),
      patient_id: PATIENT,
      status: `'fulfilled'`,
      day: `date '${DAY}' - 1 - n / ${A_DAY}`,
      start: `t.start - (1 + n / ${A_DAY}) * 86400000::bigint`,
    },
  },
  work: { rows: 1, columns: { id: asId('n'), appointment_id: asId('n') } },
  tray: { rows: 1, columns: { id: asId('n'), appointment_id: asId('n') } },
  tray_line: {
    rows: LINES,
    columns: {
      id: asId(`n::bigint * ${LINES} + k`),
      tray_id: asId('n'),
      position: 'k',
    },
  },
  journal: {
    rows: JOURNAL_ROWS,
    columns: {
      revision: REVISION,
      command_id: asId(`n::bigint * ${JOURNAL_ROWS} + k`),
    },
  },
  journal_appointment: {
    rows: JOURNAL_ROWS,
    columns: {
      appointment_id: asId('n'),
      revision: REVISION,
    },
  },
}

/** Which row of the day is told again, where not any. */
const LIKE: Partial<Record<Table, string>> = { journal: `and kind = 'allergies.record'` }

/** Puts so many past appointments behind a clinic's day, each with what belongs to it; how many rows each table has. */
export async function fillPast(
  sql: Sql,
  { clinicId, past }: { clinicId: ClinicId; past: number },
): Promise<Record<Table, number>> {
  // The rows point at each other as they should; looking each up would take most of the time.
  await sql`set session_replication_role = replica`
  await sql`set synchronous_commit = off`
  for (const table of HISTORY) await fill(sql, { table, clinicId, past })
  const journalled = past * JOURNAL_ROWS
  await sql`update clinic_clock set revision = revision + ${journalled} where clinic_id = ${clinicId}`
  await sql`analyze`
  const counts = await sql<{ name: Table; rows: number }[]>`
    select relname as name, reltuples::int as rows from pg_class where relname = any(${[...HISTORY]})`
  return Object.fromEntries(counts.map(({ name, rows }) => [name, rows])) as Record<Table, number>
}

async function fill(
  sql: Sql,
  { table, clinicId, past }: { table: Table; clinicId: ClinicId; past: number },
): Promise<void> {
  const { rows, columns } = TOLD[table]
  const named = await sql<{ column: string }[]>`
    select column_name as column from information_schema.columns
    where table_schema = 'public' and table_name = ${table} and is_generated = 'NEVER'
    order by ordinal_position`
  const into = named.map(({ column }) => `"${column}"`).join(', ')
  const values = named.map(({ column }) => columns[column] ?? `t."${column}"`).join(', ')
  await sql.unsafe(
    `create temp table told as select * from ${table} where clinic_id = '${clinicId}' ${LIKE[table] ?? ''} limit 1`,
  )
  const step = table === 'patient' ? VISITS_OF_A_PATIENT : 1
  for (let from = 0; from < past; from += AT_ONCE) {
    const last = Math.min(past, from + AT_ONCE) - 1
    await sql.unsafe(
      `with clock as (select revision from clinic_clock where clinic_id = '${clinicId}')
        insert into ${table} (${into}) select ${values}
        from told t, generate_series(${from}, ${last}, ${step}) n, generate_series(0, ${rows - 1}) k`,
    )
  }
  await sql`drop table told`
}

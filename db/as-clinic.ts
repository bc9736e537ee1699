import { must } from '#shared/base/assert.ts'
import { type ClinicId, parseId } from '#shared/ids.ts'
import type { Database, Tx } from './database.ts'

/** `write` decides on the latest facts; `read` sees one moment throughout. */
export type TxKind = 'write' | 'read'

const BEGIN: Record<TxKind, string> = {
  write: 'isolation level read committed read write',
  read: 'isolation level repeatable read read only',
}

/**
 * The only way to open a transaction on facts: it runs as the application's role and names its clinic, so that
 * row-level security shows and takes that clinic's rows alone. The name is a statement, never `set_config`,
 * which a distributed engine would not carry to where the rows are.
 */
export async function asClinic<T>(
  database: Database,
  clinicId: ClinicId,
  work: (tx: Tx) => Promise<T>,
  kind: TxKind = 'write',
): Promise<T> {
  const clinic = must(parseId<ClinicId>(clinicId), 'a clinic is named by its id')
  let result: { value: T } | null = null
  await database.sql.begin(BEGIN[kind], async (tx) => {
    // Sent together with the work's first statement: the connection answers in order.
    const named = tx
      .unsafe(`${database.takeRole} set local jit = off; set local app.clinic_id = '${clinic}'`)
      .execute()
    named.catch(() => {})
    const value = await work(tx)
    await named
    result = { value }
  })
  return must<{ value: T }>(result, 'a transaction that commits has a result').value
}

/** The rows of each of several statements. */
type Rows<List extends readonly object[]> = { [Index in keyof List]: List[Index][] }

/**
 * Reading statements in the name of a clinic, in one round trip: what is sent in one message is one transaction.
 * They carry their values in their text, so only parsed ids, numbers and moments may stand there.
 */
export async function readTogether<List extends readonly object[]>(
  database: Database,
  clinicId: ClinicId,
  statements: { [Index in keyof List]: string },
): Promise<Rows<List>> {
  const clinic = must(parseId<ClinicId>(clinicId), 'a clinic is named by its id')
  const results: object[][] = await database.sql.unsafe(
    `set transaction read only; ${database.takeRole} set local app.clinic_id = '${clinic}'; ${statements.join('; ')}`,
  )
  return results.slice(-statements.length).map((rows) => [...rows]) as Rows<List>
}

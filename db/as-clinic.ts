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
  const life: Life = { over: false }
  const run = async (tx: Tx): Promise<void> => {
    // Sent together with the work's first statement: the connection answers in order.
    const named = tx
      .unsafe(`${database.takeRole} set local jit = off; set local app.clinic_id = '${clinic}'`)
      .execute()
    named.catch(() => {})
    const value = await work(whileOpen(tx, life))
    await named
    result = { value }
  }
  try {
    await database.sql.begin(BEGIN[kind], (tx) => untilOver(run(tx), life))
  } finally {
    life.over = true
  }
  return must<{ value: T }>(result, 'a transaction that commits has a result').value
}

interface Life {
  /** Committed, rolled back, or given up because its connection broke. */
  over: boolean
}

/**
 * A transaction that takes no more statements once it is over. Its connection serves others by then: what came late
 * would run in their transaction, or in none and in no clinic's name.
 */
const whileOpen = (tx: Tx, life: Life): Tx =>
  new Proxy(tx, {
    apply: (target, self, given) => Reflect.apply(stillOpen(target, life), self, given),
    get: (target, key) => Reflect.get(stillOpen(target, life), key),
  })

function stillOpen(tx: Tx, { over }: Life): Tx {
  if (!over) return tx
  throw new Error(
    'A statement came after its transaction was over: it had ended, or its connection broke.\n' +
      'It was not sent, since it would have run outside that transaction; nothing of it is kept.\n' +
      'Ask for the whole command again: under the same id it is done once.',
  )
}

/**
 * The work as the driver is told of it: nothing any more once the transaction is over, since the `commit` or `rollback`
 * it answers with would reach whoever has the connection by then. It learns of a break and of the failed statement
 * in one turn, so a failure is told a turn later.
 */
const untilOver = (work: Promise<void>, life: Life): Promise<void> =>
  new Promise((resolve, reject) => {
    work.then(
      () => life.over || resolve(),
      (error: unknown) => setImmediate(() => life.over || reject(error)),
    )
  })

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

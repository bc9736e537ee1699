import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { drizzle } from 'drizzle-orm/postgres-js'
import { migrate as migrateWith } from 'drizzle-orm/postgres-js/migrator'
import type { Sql } from 'postgres'

const FOLDER = fileURLToPath(new URL('./migrations', import.meta.url))
/** Any number, as long as it is ours: two processes that start at once migrate one after the other. */
const LOCK = 5_204_117

interface MigrationList {
  entries: { when: number }[]
}

const newestKnown = (): number => {
  const list = JSON.parse(readFileSync(`${FOLDER}/meta/_journal.json`, 'utf8')) as MigrationList
  return Math.max(...list.entries.map((entry) => entry.when))
}

/** When the newest migration in this database was made; 0 before the first. */
async function newestDone(sql: Sql): Promise<number> {
  const [table] = await sql<{ exists: boolean }[]>`
    select to_regclass('drizzle.__drizzle_migrations') is not null as exists`
  if (!table?.exists) return 0
  const [row] = await sql<{ newest: number | null }[]>`
    select max(created_at) as newest from drizzle.__drizzle_migrations`
  return Number(row?.newest ?? 0)
}

/** Brings the schema up to date over one connection; refuses a database that a newer program has written. */
export async function migrate(sql: Sql): Promise<void> {
  await sql`select pg_advisory_lock(${LOCK})`
  try {
    const done = await newestDone(sql)
    const known = newestKnown()
    if (done > known) {
      throw new Error(
        'This database was last used by a newer Weirboard.\n' +
          'An older one could lose what it does not know.\n' +
          'Start the newer version, or point at another database.',
      )
    }
    if (done < known) await migrateWith(drizzle(sql), { migrationsFolder: FOLDER })
  } finally {
    await sql`select pg_advisory_unlock(${LOCK})`
  }
}

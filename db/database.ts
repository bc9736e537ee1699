import type { PostgresJsDatabase } from 'drizzle-orm/postgres-js'
import type { Sql, TransactionSql } from 'postgres'

export const ENGINES = ['pglite', 'postgresql'] as const
export type Engine = (typeof ENGINES)[number]

/** The channel on which a commit is announced: `<clinic id>:<revision>`. */
export const CHANNEL = 'weirboard'

/** An open database. Facts are reached through `asClinic` only; `sql` and `db` serve the undistributed tables. */
export interface Database {
  engine: Engine
  sql: Sql
  db: PostgresJsDatabase
  /** The statement that makes a transaction the application's own, or nothing where the login already is. */
  takeRole: string
  /** Calls `told` with each announcement, and `gap` whenever announcements may have been missed. */
  listen: (told: (payload: string) => void, gap: () => void) => Promise<void>
  close: () => Promise<void>
}

/** A transaction in the name of one clinic. */
export type Tx = TransactionSql

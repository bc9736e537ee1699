import { drizzle } from 'drizzle-orm/postgres-js'
import postgres, { type Options, type Sql } from 'postgres'
import { CHANNEL, type Database } from './database.ts'
import { openEmbedded } from './embedded.ts'
import { migrate } from './migrate.ts'

const OLDEST = 150_000
const APPLICATION = 'weirboard_app'

/** Where the facts are kept: a PostgreSQL server, a folder for the embedded engine, or memory for a test. */
export type Place = { url: string; connections?: number } | { folder: string | null }

type Types = {
  int8: { to: number; from: number[]; serialize: (x: number) => string; parse: (x: string) => number }
}
/** Instants and revisions are safe integers; the driver would hand them over as text. */
const TYPES: Types = { int8: { to: 20, from: [20], serialize: String, parse: Number } }

/** Opens the database, brings its schema up to date and checks that it can keep clinics apart. */
export const openDatabase = (place: Place): Promise<Database> =>
  'url' in place ? openServer(place.url, place.connections ?? 10) : openFolder(place.folder)

async function openServer(url: string, connections: number): Promise<Database> {
  const options: Options<Types> = { max: connections, types: TYPES, onnotice: () => {} }
  await withClient(postgres(url, { ...options, max: 1 }), async (client) => {
    await refuseOldServer(client)
    await migrate(client)
  })
  const sql = postgres(url, options) as unknown as Sql
  const takeRole = await roleStatement(sql)
  const listener = { sql: null as Sql | null }
  return {
    engine: 'postgresql',
    sql,
    db: drizzle(sql, { casing: 'snake_case' }),
    takeRole,
    listen: async (told, gap) => {
      listener.sql = postgres(url, {
        ...options,
        max: 1,
        connection: { application_name: 'weirboard hub' },
      }) as unknown as Sql
      // Announcements sent while the connection was down are lost, so every new one begins with a gap.
      await listener.sql.listen(CHANNEL, told, gap)
    },
    close: async () => {
      await listener.sql?.end({ timeout: 2 })
      await sql.end({ timeout: 5 })
    },
  }
}

async function openFolder(folder: string | null): Promise<Database> {
  const embedded = await openEmbedded(folder)
  const told = new Set<(payload: string) => void>()
  // One session: its announcements come back on its only connection.
  const sql = postgres({
    path: embedded.socket,
    username: 'postgres',
    database: 'postgres',
    max: 1,
    max_lifetime: null,
    fetch_types: false,
    types: TYPES,
    onnotice: () => {},
    onnotify: (_channel: string, payload: string) => {
      for (const tell of told) tell(payload)
    },
  } as Options<Types>) as unknown as Sql
  try {
    await migrate(sql)
    await sql`listen ${sql(CHANNEL)}`
    return {
      engine: 'pglite',
      sql,
      db: drizzle(sql, { casing: 'snake_case' }),
      takeRole: await roleStatement(sql),
      listen: async (tell, gap) => {
        told.add(tell)
        gap()
      },
      close: async () => {
        await sql.end({ timeout: 5 })
        await embedded.close()
      },
    }
  } catch (error) {
    await sql.end({ timeout: 1 })
    await embedded.close()
    throw error
  }
}

async function withClient(
  client: postgres.Sql<{ int8: number }>,
  work: (client: Sql) => Promise<void>,
): Promise<void> {
  try {
    await work(client as unknown as Sql)
  } finally {
    await client.end({ timeout: 5 })
  }
}

async function refuseOldServer(sql: Sql): Promise<void> {
  const [row] = await sql<{ version: string }[]>`select current_setting('server_version_num') as version`
  if (Number(row?.version ?? 0) >= OLDEST) return
  throw new Error(
    `This PostgreSQL server is version ${row?.version}.\n` +
      'Weirboard is tested with PostgreSQL 15 and later and would not keep its promises here.\n' +
      'Point DATABASE_URL at a newer server.',
  )
}

/** A login that owns tables or is a superuser would see through row-level security, so it takes the application's role. */
async function roleStatement(sql: Sql): Promise<string> {
  const [row] = await sql<{ login: string }[]>`select current_user as login`
  return row?.login === APPLICATION ? '' : `set local role ${APPLICATION};`
}

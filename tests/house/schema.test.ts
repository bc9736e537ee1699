import { readdirSync, readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import type { Sql } from 'postgres'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Database } from '#db/database.ts'
import { openDatabase } from '#db/open.ts'

/** Who may sign in, or read a feed by its secret, names no clinic; the catalogue of migrations is the tool's own. */
const UNDISTRIBUTED = [
  'account',
  'credential',
  'feed_address',
  'membership',
  'session',
  'sign_in_attempt',
  'verification',
]

/** The embedded engine makes its files anew, on a busy machine too. */
const OPENS_WITHIN_MS = 120_000

interface Key {
  table: string
  name: string
  kind: string
  columns: string[]
  target: string | null
  targetColumns: string[] | null
}

const KEYS = `
  select c.conrelid::regclass::text as "table", c.conname as name, c.contype as kind,
    c.confrelid::regclass::text as target,
    (select jsonb_agg(a.attname order by k.n) from unnest(c.conkey) with ordinality k(key, n)
      join pg_attribute a on a.attrelid = c.conrelid and a.attnum = k.key) as columns,
    (select jsonb_agg(a.attname order by k.n) from unnest(c.confkey) with ordinality k(key, n)
      join pg_attribute a on a.attrelid = c.confrelid and a.attnum = k.key) as "targetColumns"
  from pg_constraint c join pg_class t on t.oid = c.conrelid join pg_namespace s on s.oid = t.relnamespace
  where s.nspname = 'public' and c.contype in ('p', 'u', 'x', 'f')`
const UNIQUE_INDEXES = `
  select i.indrelid::regclass::text as "table", i.indexrelid::regclass::text as name,
    (select jsonb_agg(a.attname) from unnest(i.indkey::int2[]) k(key)
      join pg_attribute a on a.attrelid = i.indrelid and a.attnum = k.key) as columns
  from pg_index i join pg_class t on t.oid = i.indrelid join pg_namespace s on s.oid = t.relnamespace
  where s.nspname = 'public' and i.indisunique`
const TABLES = `
  select t.relname as "table", t.relrowsecurity as secured, t.relforcerowsecurity as forced,
    exists (select from pg_attribute a where a.attrelid = t.oid and a.attname = 'clinic_id' and a.attnotnull) as "hasClinic",
    (select count(*)::int from pg_policy p where p.polrelid = t.oid) as policies,
    (select count(*)::int from pg_trigger g where g.tgrelid = t.oid and not g.tgisinternal) as triggers
  from pg_class t join pg_namespace s on s.oid = t.relnamespace where s.nspname = 'public' and t.relkind = 'r'`

/** PostgreSQL names the constraints of a shard by adding its number. */
const plainName = (name: string): string => name.replace(/_[0-9]+$/, '')

const MIGRATIONS = new URL('../../db/migrations/', import.meta.url)
describe('the migrations', () => {
  it('make the schema as it is written: nothing is left to generate', async () => {
    const { generateDrizzleJson, generateMigration } = createRequire(import.meta.url)(
      'drizzle-kit/api',
    ) as typeof import('drizzle-kit/api')
    const list = JSON.parse(readFileSync(new URL('meta/_journal.json', MIGRATIONS), 'utf8')) as {
      entries: { idx: number }[]
    }
    const last = String(list.entries.length - 1).padStart(4, '0')
    const done = JSON.parse(readFileSync(new URL(`meta/${last}_snapshot.json`, MIGRATIONS), 'utf8'))
    const folder = new URL('../../db/schema/', import.meta.url)
    const files = await Promise.all(
      readdirSync(folder).map(
        (name) => import(new URL(name, folder).href) as Promise<Record<string, unknown>>,
      ),
    )
    const written = generateDrizzleJson(Object.assign({}, ...files), done.id, undefined, 'snake_case')
    expect(Object.keys(written.tables)).toHaveLength(Object.keys(done.tables).length)
    expect(await generateMigration(done, written)).toEqual([])
  })
})

describe('the schema is ready to be distributed by clinic', () => {
  let database: Database
  let sql: Sql
  beforeAll(async () => {
    database = await openDatabase({ folder: null })
    sql = database.sql
  }, OPENS_WITHIN_MS)
  afterAll(() => database.close())

  const facts = (table: string): boolean => !UNDISTRIBUTED.includes(table)
  const select = async <T>(query: string): Promise<T[]> => [...(await sql.unsafe(query))] as unknown as T[]

  it('every table of facts names its clinic, and none but the sign-in tables stands outside', async () => {
    const tables = await select<{ table: string; hasClinic: boolean }>(TABLES)
    expect(tables.length).toBeGreaterThan(35)
    expect(tables.filter(({ table, hasClinic }) => facts(table) && !hasClinic)).toEqual([])
    expect(UNDISTRIBUTED.filter((name) => !tables.some(({ table }) => table === name))).toEqual([])
  })

  it('every table of facts has forced row-level security with a policy', async () => {
    const tables = await select<{ table: string; secured: boolean; forced: boolean; policies: number }>(
      TABLES,
    )
    const open = tables.filter(
      ({ table, secured, forced, policies }) => facts(table) && !(secured && forced && policies === 1),
    )
    expect(open).toEqual([])
  })

  it('every key of a table of facts contains the clinic, and a foreign key names it on both sides', async () => {
    const keys = await select<Key>(KEYS)
    expect(keys.length).toBeGreaterThan(80)
    const wrong = keys.filter(({ table, kind, columns, target, targetColumns }) => {
      if (!facts(table)) return kind === 'f' && facts(target ?? '')
      if (columns[0] !== 'clinic_id') return true
      return kind === 'f' && (!facts(target ?? '') || targetColumns?.[0] !== 'clinic_id')
    })
    expect(wrong).toEqual([])
    expect(keys.every(({ name }) => plainName(name) === name)).toBe(true)
  })

  it('every unique index of a table of facts contains the clinic', async () => {
    const indexes = await select<{ table: string; name: string; columns: string[] }>(UNIQUE_INDEXES)
    expect(indexes.filter(({ table, columns }) => facts(table) && !columns.includes('clinic_id'))).toEqual([])
  })

  it('no table has a trigger and no sequence spans clinics', async () => {
    const tables = await select<{ table: string; triggers: number }>(TABLES)
    expect(tables.filter(({ triggers }) => triggers > 0)).toEqual([])
    expect(
      await select(
        "select relname from pg_class c join pg_namespace s on s.oid = c.relnamespace where c.relkind = 'S' and s.nspname = 'public'",
      ),
    ).toEqual([])
  })
})

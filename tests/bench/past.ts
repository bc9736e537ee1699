import postgres, { type Sql } from 'postgres'
import { openDatabase } from '#db/open.ts'
import { must } from '#shared/base/assert.ts'
import { makeDatabase, startPostgres } from '#tests/support/postgres.ts'
import { boardUrl } from './board-snapshot.ts'
import { DAY, makeDay, signIn } from './clinic.ts'
import { atMostTimes, p50, type Reading } from './figures.ts'
import { askWell, oneConnection } from './http.ts'
import { fillPast, HISTORY } from './past-rows.ts'
import { freePort, newFolder, removeFolder, start } from './processes.ts'
import { PRODUCT, type Stand } from './stand.ts'

const FEW = 1_000
const MANY = 1_000_000
const ROUNDS = 12
const PER_ROUND = 25
const WARM_UP = 60
/** Counters of a session that has nothing to do are told after a second. */
const COUNTED_WITHIN_MS = 1_500

interface Clinic {
  /** Asks for the board once, in ms. */
  ask: () => Promise<number>
  /** How often each table of the past was read from end to end. */
  scans: () => Promise<Map<string, number>>
  rows: Record<string, number>
  filledMs: number
  close: () => Promise<void>
}

/** A day with so much past behind it, and the product on it. */
async function openWith(server: string, past: number): Promise<Clinic> {
  const url = await makeDatabase(server)
  const database = await openDatabase({ url, connections: 1 })
  const clinic = await makeDay(database)
  const cookie = await signIn(clinic, must(clinic.assistants[0], 'the clinic has assistants'))
  await database.close()
  const sql = postgres(url, { max: 1, onnotice: () => {} })
  const began = performance.now()
  const rows = await fillPast(sql, { clinicId: clinic.clinicId, past })
  const filledMs = Math.round(performance.now() - began)
  const [port, folder] = [await freePort(), newFolder()]
  const variables = { DATABASE_URL: url, DATA_FOLDER: folder, CLINIC: 'real' }
  const product = await start({ command: PRODUCT, port, variables, well: '/healthz' })
  const agent = oneConnection()
  return {
    ask: async () => (await askWell(boardUrl(product.address, clinic.siteId), { agent, cookie })).ms,
    scans: () => readScans(sql),
    rows,
    filledMs,
    close: async () => {
      agent.destroy()
      await product.stop()
      await sql.end()
      removeFolder(folder)
    },
  }
}

async function readScans(sql: Sql): Promise<Map<string, number>> {
  await new Promise((resolve) => setTimeout(resolve, COUNTED_WITHIN_MS))
  const rows = await sql<{ name: string; scans: number }[]>`
    select relname as name, seq_scan::int as scans from pg_stat_user_tables where relname = any(${[...HISTORY]})`
  return new Map(rows.map(({ name, scans }) => [name, scans]))
}

/** Rows put there in one go call for a housekeeping that would run through the measurement. */
async function leaveAlone(url: string): Promise<void> {
  const sql = postgres(url, { max: 1, onnotice: () => {} })
  await sql`alter system set autovacuum = off`
  await sql`alter system set max_wal_size = '8GB'`
  await sql`select pg_reload_conf()`
  await sql.end()
}

/** The board of a day with a million appointments behind it beside one with a thousand, on a server of their own. */
export async function measurePast(stand: Stand): Promise<Reading[]> {
  // What the product is built by is built once, by the stand's own.
  await stand.product()
  const server = await startPostgres()
  const clinics: Clinic[] = []
  const open = async (past: number): Promise<Clinic> => {
    const clinic = await openWith(server.url, past)
    clinics.push(clinic)
    return clinic
  }
  try {
    await leaveAlone(server.url)
    const few = await open(FEW)
    const many = await open(MANY)
    for (let turn = 0; turn < WARM_UP; turn += 1) {
      await few.ask()
      await many.ask()
    }
    const before = await many.scans()
    const took = { few: [] as number[], many: [] as number[] }
    for (let round = 0; round < ROUNDS; round += 1) {
      for (let turn = 0; turn < PER_ROUND; turn += 1) took.few.push(await few.ask())
      for (let turn = 0; turn < PER_ROUND; turn += 1) took.many.push(await many.ask())
    }
    const scanned = [...(await many.scans())].filter(([name, count]) => count > (before.get(name) ?? 0))
    if (scanned.length > 0) {
      throw new Error(`The board read ${scanned.map(([name]) => name).join(', ')} from end to end.`)
    }
    return [
      atMostTimes(
        {
          figure: `the same with ${MANY.toLocaleString('en')} past appointments, beside ${FEW.toLocaleString('en')}`,
          unit: 'ms',
          ours: p50(took.many),
          reference: p50(took.few),
          behind: { day: DAY, ...many.rows, 'filled, ms': many.filledMs, samples: took.many.length },
        },
        1.2,
      ),
    ]
  } finally {
    for (const clinic of clinics.reverse()) await clinic.close()
    await server.stop()
  }
}

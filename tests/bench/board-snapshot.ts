import { getTableName } from 'drizzle-orm'
import postgres from 'postgres'
import { tables } from '#db/tables.ts'
import { FACT_NAMES, type World } from '#shared/facts.ts'
import { DAY } from './clinic.ts'
import { atMostTimes, p50, type Reading } from './figures.ts'
import { ask, askWell, oneConnection } from './http.ts'
import type { Stand } from './stand.ts'

const ROUNDS = 12
const PER_ROUND = 25
const WARM_UP = 60

export const boardUrl = (address: string, siteId: string): string =>
  `${address}/api/trpc/board.day?input=${encodeURIComponent(JSON.stringify({ siteId, day: DAY }))}`

export interface SnapshotSaid {
  kind: 'facts'
  revision: number
  at: number
  world: World
}

/** The day as the product gives it to a clinical screen. */
export async function takeSnapshot(stand: Stand): Promise<SnapshotSaid> {
  const { clinic, cookie } = await stand.day()
  const { address } = await stand.product()
  const agent = oneConnection()
  const { body } = await askWell(boardUrl(address, clinic.siteId), { agent, cookie })
  agent.destroy()
  return (JSON.parse(body.toString()) as { result: { data: SnapshotSaid } }).result.data
}

const LOOK_UP = `select a.id, s.id, a.email, m.clinic_id, m.member_id from session s
  join account a on a.id = s.user_id join membership m on m.account_id = a.id
  where s.token = $1 and s.expires_at > now() limit 1`

/** The same rows by their keys, through the same driver, with what any honest server must do around them. */
async function openBare(stand: Stand, world: World) {
  const { url, clinic, cookie } = await stand.day()
  const token = /=([^.]+)/.exec(cookie)?.[1] ?? ''
  const sql = postgres(url, { max: 1, onnotice: () => {} })
  const kinds = FACT_NAMES.filter((name) => world[name].length > 0).map((name) => ({
    text: `select * from "${getTableName(tables[name])}" where clinic_id = $1 and id = any($2::uuid[])`,
    ids: `{${world[name].map(({ id }) => id).join(',')}}`,
    count: world[name].length,
  }))
  const read = async (): Promise<number> => {
    const began = performance.now()
    const [who] = await sql.unsafe(LOOK_UP, [token], { prepare: true })
    if (!who) throw new Error('The session was not found.')
    const rows = await sql.begin('isolation level repeatable read read only', async (tx) => {
      const named = tx
        .unsafe(`set local role weirboard_app; set local app.clinic_id = '${clinic.clinicId}'`)
        .execute()
      const reading = kinds.map(({ text, ids }) => tx.unsafe(text, [clinic.clinicId, ids], { prepare: true }))
      await named
      return Promise.all(reading)
    })
    const ms = performance.now() - began
    for (const [index, { count }] of kinds.entries()) {
      if (rows[index]?.length !== count) throw new Error('The bare reading gave other rows.')
    }
    return ms
  }
  return { read, close: () => sql.end() }
}

/** The board's snapshot over one connection, against bare SQL of the same rows and the framework's own hello. */
export async function measureBoard(stand: Stand): Promise<Reading[]> {
  const { clinic, cookie } = await stand.day()
  const [product, hello] = [await stand.product(), await stand.hello()]
  const { world } = await takeSnapshot(stand)
  const bare = await openBare(stand, world)
  const agents = { ours: oneConnection(), hello: oneConnection() }
  const board = () => askWell(boardUrl(product.address, clinic.siteId), { agent: agents.ours, cookie })
  const greet = () => ask(`${hello.address}/api/hello`, { agent: agents.hello })
  const ours: number[] = []
  const bareSql: number[] = []
  const greeted: number[] = []
  let bytes = 0
  for (let turn = 0; turn < WARM_UP; turn += 1) {
    await board()
    await greet()
    await bare.read()
  }
  for (let round = 0; round < ROUNDS; round += 1) {
    for (let turn = 0; turn < PER_ROUND; turn += 1) {
      const answer = await board()
      ours.push(answer.ms)
      bytes = answer.body.length
    }
    for (let turn = 0; turn < PER_ROUND; turn += 1) bareSql.push(await bare.read())
    for (let turn = 0; turn < PER_ROUND; turn += 1) greeted.push((await greet()).ms)
  }
  await bare.close()
  agents.ours.destroy()
  agents.hello.destroy()
  const facts = FACT_NAMES.reduce((sum, name) => sum + world[name].length, 0)
  return [
    atMostTimes(
      {
        figure: `board snapshot, ${world.operatory.length} operatories, ${world.appointment.length} appointments, p50`,
        unit: 'ms',
        ours: p50(ours),
        reference: p50(bareSql) + p50(greeted),
        behind: {
          'bare SQL, ms': p50(bareSql),
          'hello, ms': p50(greeted),
          bytes,
          facts,
          samples: ours.length,
        },
      },
      2,
    ),
  ]
}

import { randomUUID } from 'node:crypto'
import { Agent } from 'node:http'
import postgres, { type Sql } from 'postgres'
import { openDatabase } from '#db/open.ts'
import { must } from '#shared/base/assert.ts'
import type { MemberId } from '#shared/ids.ts'
import { makeDatabase } from '#tests/support/postgres.ts'
import { type BenchClinic, CLAIMERS, done, makeDay, signIn } from './clinic.ts'
import { atLeastTimes, p50, type Reading } from './figures.ts'
import { askWell } from './http.ts'
import { recordClaims, replay, TYPES } from './replay.ts'
import type { Stand } from './stand.ts'

const ROUNDS = 15
const WARM_UP = 5
/** As many as the product opens. */
const CONNECTIONS = 10

/** Everyone claims one tray at once; who won. */
type ClaimAll = (trayId: string) => Promise<MemberId[]>

const perSecond = (ms: readonly number[]): number => (CLAIMERS * 1000) / p50(ms)

/** One round of a contest that has exactly one winner, in ms. */
async function contest(clinic: BenchClinic, trayId: string, claimAll: ClaimAll): Promise<number> {
  const began = performance.now()
  const winners = await claimAll(trayId)
  const ms = performance.now() - began
  const [winner] = winners
  if (winners.length !== 1 || winner === undefined) throw new Error(`A tray had ${winners.length} owners.`)
  const [tray] = (await clinic.read('tray')).filter(({ id }) => id === trayId)
  if (tray?.life.kind !== 'claimed' || tray.life.by !== winner)
    throw new Error('The tray is not the winner’s.')
  await done(clinic, 'tray.let-go', { trayId }, winner)
  return ms
}

const winnersOf = (answers: readonly { by: MemberId; won: boolean }[]): MemberId[] =>
  answers.flatMap(({ by, won }) => (won ? [by] : []))

const inProcess =
  (clinic: BenchClinic): ClaimAll =>
  async (trayId) =>
    winnersOf(
      await Promise.all(
        clinic.assistants.map(async (by) => ({
          by,
          won: !(await clinic.perform('tray.claim', { trayId }, by)).refused,
        })),
      ),
    )

async function timed(work: () => Promise<unknown>): Promise<number> {
  const began = performance.now()
  await work()
  return performance.now() - began
}

const freeTray = async (clinic: BenchClinic): Promise<string> =>
  must((await clinic.read('tray'))[1], 'a day has trays').id

/** Claims in this process, against the same statements through the bare driver. */
async function measureInProcess(stand: Stand): Promise<Reading> {
  const url = await makeDatabase((await stand.postgres()).url)
  const database = await openDatabase({ url, connections: CONNECTIONS })
  const clinic = await makeDay(database)
  const trayId = await freeTray(clinic)
  const recorded = await recordClaims({ url, clinic }, trayId)
  // The replayed rows break the chain of the clinic they are written to, so each side has one of its own.
  const other = await makeDatabase((await stand.postgres()).url)
  const otherDatabase = await openDatabase({ url: other, connections: 1 })
  const otherClinic = await makeDay(otherDatabase)
  const otherTray = await freeTray(otherClinic)
  const replayed = await recordClaims({ url: other, clinic: otherClinic }, otherTray)
  const bare = postgres(other, { max: CONNECTIONS, types: TYPES, onnotice: () => {} }) as unknown as Sql
  let revision = replayed.revision + 1000
  const replayAll = () => {
    revision += 1
    const losers = Array.from({ length: CLAIMERS - 1 }, () => replayed.loser)
    return Promise.all(
      [replayed.winner, ...losers].map((steps) => replay(bare, steps, { recorded: replayed, revision })),
    )
  }
  const ours: number[] = []
  const plain: number[] = []
  for (let round = -WARM_UP; round < ROUNDS; round += 1) {
    const mine = await contest(clinic, trayId, inProcess(clinic))
    const theirs = await timed(replayAll)
    if (round < 0) continue
    ours.push(mine)
    plain.push(theirs)
  }
  await bare.end()
  await otherDatabase.close()
  await database.close()
  const count = (steps: readonly unknown[][]): number => steps.flat().length
  return atLeastTimes(
    {
      figure: `contested claims, ${CLAIMERS} at once, perform in process beside the bare statements`,
      unit: 'a second',
      ours: perSecond(ours),
      reference: perSecond(plain),
      behind: {
        'statements of a winner': count(recorded.winner),
        'statements of a loser': count(recorded.loser),
        rounds: ROUNDS,
      },
    },
    0.5,
  )
}

/** Claims over HTTP by as many people on connections of their own, against the framework's hello for the same body. */
async function measureOverHttp(stand: Stand): Promise<Reading> {
  const { clinic, cookie } = await stand.day()
  const [product, hello] = [await stand.product(), await stand.hello()]
  const agent = new Agent({ keepAlive: true, maxSockets: CLAIMERS })
  const cookies = new Map<MemberId, string>()
  for (const [index, by] of clinic.assistants.entries()) {
    cookies.set(by, index === 0 ? cookie : await signIn(clinic, by))
  }
  const bodyOf = (trayId: string) => ({
    id: randomUUID(),
    kind: 'tray.claim',
    input: { trayId },
    sawRevision: 0,
    madeAt: Date.now(),
  })
  const claimAll: ClaimAll = async (trayId) =>
    winnersOf(
      await Promise.all(
        [...cookies].map(async ([by, own]) => {
          const asking = { agent, cookie: own, body: bodyOf(trayId) }
          const { body } = await askWell(`${product.address}/api/trpc/perform`, asking)
          const said = JSON.parse(body.toString()) as { result: { data: { refused: boolean } } }
          return { by, won: !said.result.data.refused }
        }),
      ),
    )
  const trayId = await freeTray(clinic)
  const greetAll = () =>
    Promise.all(
      [...cookies].map(([, own]) =>
        askWell(`${hello.address}/api/hello`, { agent, cookie: own, body: bodyOf(trayId) }),
      ),
    )
  const ours: number[] = []
  const plain: number[] = []
  for (let round = -WARM_UP; round < ROUNDS; round += 1) {
    const mine = await contest(clinic, trayId, claimAll)
    const theirs = await timed(greetAll)
    if (round < 0) continue
    ours.push(mine)
    plain.push(theirs)
  }
  agent.destroy()
  return atLeastTimes(
    {
      figure: 'the same over HTTP, beside a hello-world POST',
      unit: 'a second',
      ours: perSecond(ours),
      reference: perSecond(plain),
      behind: { rounds: ROUNDS },
    },
    0.4,
  )
}

/** Contested claims: one winner each, and how many are decided in a second. */
export async function measureClaims(stand: Stand): Promise<Reading[]> {
  return [await measureInProcess(stand), await measureOverHttp(stand)]
}

import { randomUUID } from 'node:crypto'
import postgres, { type Sql } from 'postgres'
import { must } from '#shared/base/assert.ts'
import type { MemberId } from '#shared/ids.ts'
import { type BenchClinic, clinicOn, done } from './clinic.ts'

interface Statement {
  text: string
  values: unknown[]
}
/** The statements of one transaction; those in one step were sent together. */
type Steps = Statement[][]

export interface Recorded {
  winner: Steps
  loser: Steps
  revision: number
  commandId: string
}

const OUTER = /^(begin|commit|rollback)\b/i
const asText = (value: unknown): unknown => value
/** As the product's client is set: safe integers as numbers, JSON as the text it already is. */
export const TYPES = {
  int8: { to: 20, from: [20], serialize: String, parse: Number },
  json: { to: 114, from: [114, 3802], serialize: asText, parse: JSON.parse },
}

/** Watches what the driver is given, step by step: what is sent before anything is answered is one step. */
function openRecorder(url: string) {
  let turn = 0
  let isOpen = true
  const spin = (): void => {
    turn += 1
    if (isOpen) setImmediate(spin)
  }
  setImmediate(spin)
  let seen: (Statement & { turn: number })[] = []
  const sql = postgres(url, {
    max: 1,
    types: TYPES,
    onnotice: () => {},
    debug: (_connection, text, values) => seen.push({ text, values: [...(values ?? [])], turn }),
  })
  const take = (): Steps => {
    const inner = seen.filter(({ text }) => !OUTER.test(text))
    seen = []
    return [...new Set(inner.map((each) => each.turn))].map((step) =>
      inner.filter((each) => each.turn === step),
    )
  }
  return {
    sql: sql as unknown as Sql,
    take,
    close: () => {
      isOpen = false
      return sql.end()
    },
  }
}

/** What one claim that is won and one that is lost send to the database. */
export async function recordClaims(
  { url, clinic }: { url: string; clinic: BenchClinic },
  trayId: string,
): Promise<Recorded> {
  const recorder = openRecorder(url)
  const watched = clinicOn({ ...clinic.database, sql: recorder.sql }, clinic)
  const [first, second] = clinic.assistants
  const claim = (by: MemberId | undefined, id: string) => watched.perform('tray.claim', { trayId }, by, id)
  // The first of each prepares its statements; the second is what is recorded.
  await claim(first, randomUUID())
  await claim(second, randomUUID())
  await done(clinic, 'tray.let-go', { trayId }, first)
  recorder.take()
  const commandId = randomUUID()
  const won = await claim(first, commandId)
  const winner = recorder.take()
  await claim(second, randomUUID())
  const loser = recorder.take()
  await recorder.close()
  await done(clinic, 'tray.let-go', { trayId }, first)
  if (won.refused) throw new Error('A free tray could not be claimed.')
  return { winner, loser, revision: won.revision, commandId }
}

/** Sends the statements of one claim again, with a number and an id of their own. */
export async function replay(
  sql: Sql,
  steps: Steps,
  { recorded, revision }: { recorded: Recorded; revision: number },
): Promise<void> {
  const commandId = randomUUID()
  const anew = (value: unknown): unknown => {
    if (value === recorded.revision || value === String(recorded.revision)) return revision
    if (typeof value !== 'string') return value
    return value
      .replaceAll(recorded.commandId, commandId)
      .replace(new RegExp(`:${recorded.revision}$`), `:${revision}`)
  }
  await sql.begin('read write', async (tx) => {
    for (const step of steps) {
      await Promise.all(
        step.map(({ text, values }) =>
          tx.unsafe(text, must(values, 'a statement has values').map(anew) as never[], {
            prepare: values.length > 0,
          }),
        ),
      )
    }
  })
}

import { join } from 'node:path'
import type { Database } from '#db/database.ts'
import { openDatabase } from '#db/open.ts'
import { must } from '#shared/base/assert.ts'
import { makeDatabase, type PrivatePostgres, startPostgres } from '#tests/support/postgres.ts'
import { type BenchClinic, makeDay, signIn } from './clinic.ts'
import { startHello } from './hello.ts'
import { freePort, newFolder, ROOT, type Running, removeFolder, start } from './processes.ts'

/** What the measurements stand on, each part made when it is first asked for. */
export interface Stand {
  postgres: () => Promise<PrivatePostgres>
  /** A database with a clinic and its day. */
  day: () => Promise<{ url: string; clinic: BenchClinic; cookie: string }>
  /** The product on that database, as a process of its own. */
  product: () => Promise<Running>
  hello: () => Promise<Running>
  close: () => Promise<void>
}

export const PRODUCT = [process.execPath, join(ROOT, 'server/start.mjs')]

/** Makes a thing once, and undoes all that was made, last first. */
function openStore() {
  const undone: (() => Promise<void>)[] = []
  const once = <T>(make: () => Promise<T>, undo: (made: T) => Promise<void> | void): (() => Promise<T>) => {
    let made: Promise<T> | null = null
    return () => {
      made ??= make().then((value) => {
        undone.push(async () => undo(value))
        return value
      })
      return made
    }
  }
  const undoAll = async (): Promise<void> => {
    while (undone.length > 0) await undone.pop()?.()
  }
  return { once, undoAll }
}

export function openStand(): Stand {
  const { once, undoAll } = openStore()
  const postgres = once(startPostgres, (server) => server.stop())
  const day = once(
    async () => {
      const url = await makeDatabase((await postgres()).url)
      const database: Database = await openDatabase({ url })
      const clinic = await makeDay(database)
      const first = must(clinic.assistants[0], 'the clinic has assistants')
      return { url, clinic, cookie: await signIn(clinic, first) }
    },
    ({ clinic }) => clinic.database.close(),
  )
  const folder = once(async () => newFolder(), removeFolder)
  const product = once(
    async () => {
      const { url } = await day()
      const port = await freePort()
      const variables = { DATABASE_URL: url, DATA_FOLDER: await folder(), CLINIC: 'real' }
      return start({ command: PRODUCT, port, variables, well: '/healthz' })
    },
    (running) => running.stop(),
  )
  const hello = once(startHello, (running) => running.stop())
  return { postgres, day, product, hello, close: undoAll }
}

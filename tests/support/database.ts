import { inject } from 'vitest'
import type { Database, Engine } from '#db/database.ts'
import { openDatabase } from '#db/open.ts'
import { makeDatabase } from './postgres.ts'

/** A fresh database of one engine: in memory, or a new one on the tests' own server. */
export const openFresh = async (engine: Engine): Promise<Database> =>
  engine === 'pglite'
    ? openDatabase({ folder: null })
    : openDatabase({ url: await makeDatabase(inject('postgres')) })

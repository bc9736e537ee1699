import { afterAll, beforeAll } from 'vitest'
import { type Database, ENGINES, type Engine } from '#db/database.ts'
import { openFresh } from '#tests/support/database.ts'
import { databaseContract } from './contract.ts'

const opened: Partial<Record<Engine, Database>> = {}

beforeAll(async () => {
  for (const engine of ENGINES) opened[engine] = await openFresh(engine)
})
afterAll(async () => {
  for (const database of Object.values(opened)) await database.close()
})

for (const engine of ENGINES) databaseContract(engine, () => opened[engine] as Database)

import type { TestProject } from 'vitest/node'
import { startPostgres } from './postgres.ts'

declare module 'vitest' {
  interface ProvidedContext {
    postgres: string
  }
}

/** One private PostgreSQL for all data tests; each file makes databases of its own on it. */
export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const server = await startPostgres()
  project.provide('postgres', server.url)
  return server.stop
}

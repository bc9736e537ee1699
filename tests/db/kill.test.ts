import { spawn } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, inject, it } from 'vitest'
import { asClinic } from '#db/as-clinic.ts'
import { openDatabase } from '#db/open.ts'
import { findBreak, readEntries } from '#server/commands/journal.ts'
import type { ClinicId } from '#shared/ids.ts'
import { addOperatory, foundClinic, readAll } from '#tests/support/clinic.ts'
import { makeDatabase, startPostgres } from '#tests/support/postgres.ts'

const ROUNDS = 3
const folder = mkdtempSync(join(tmpdir(), 'weirboard-kill-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** Starts a writer, kills it without warning after it has acknowledged some writes, and says what it promised. */
async function killWriter(): Promise<{ clinicId: ClinicId; promised: number }> {
  const child = spawn(
    process.execPath,
    ['--import', 'tsx', new URL('./writes.ts', import.meta.url).pathname, folder],
    { stdio: ['ignore', 'pipe', 'inherit'] },
  )
  let said = ''
  const after = 3 + Math.floor(Math.random() * 12)
  await new Promise<void>((resolve) => {
    child.stdout.on('data', (data) => {
      said += data
      if (said.includes(`kept ${after}\n`)) child.kill('SIGKILL')
    })
    child.once('exit', () => resolve())
  })
  const promised = [...said.matchAll(/^kept (\d+)$/gm)].length
  return { clinicId: (/^clinic (\S+)$/m.exec(said)?.[1] ?? '') as ClinicId, promised }
}

describe('a kill without warning', () => {
  it(`loses nothing that was acknowledged, ${ROUNDS} times over (embedded engine)`, async () => {
    for (let round = 0; round < ROUNDS; round += 1) {
      const { clinicId, promised } = await killWriter()
      expect(promised).toBeGreaterThan(2)
      const database = await openDatabase({ folder })
      const [world, entries] = await asClinic(database, clinicId, async (tx) => [
        await readAll(tx, clinicId),
        await readEntries(tx, clinicId, { after: 0 }),
      ])
      await database.close()
      expect(world.operatory.length).toBeGreaterThanOrEqual(promised)
      expect(world.operatory.length).toBe(entries.length - 1)
      expect(findBreak(entries)).toBeNull()
    }
  })

  it('of a PostgreSQL server loses nothing that was acknowledged', async () => {
    expect(inject('postgres')).toContain('postgres://')
    const server = await startPostgres()
    try {
      const url = await makeDatabase(server.url)
      const before = await openDatabase({ url })
      const clinic = await foundClinic(before)
      for (let number = 1; number <= 5; number += 1) await addOperatory(clinic, `Room ${number}`)
      await server.killAndStart()
      await before.close()
      const after = await openDatabase({ url })
      const world = await asClinic(after, clinic.clinicId, (tx) => readAll(tx, clinic.clinicId))
      await after.close()
      expect(world.operatory).toHaveLength(5)
    } finally {
      await server.stop()
    }
  })
})

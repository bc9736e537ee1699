import { type ChildProcess, spawn } from 'node:child_process'
import { join } from 'node:path'
import { asClinic } from '#db/as-clinic.ts'
import type { Database } from '#db/database.ts'
import { openDatabase } from '#db/open.ts'
import { findBreak, readEntries } from '#server/commands/journal.ts'
import { makeDatabase, startPostgres } from '#tests/support/postgres.ts'
import { type BenchClinic, foundClinic } from './clinic.ts'
import { atMost, type Reading } from './figures.ts'
import { newFolder, pause, ROOT, removeFolder } from './processes.ts'

/** Together a hundred: of the writing process on each engine, and of the database under it. */
const KILLS = { embedded: 34, process: 33, database: 33 }
const LONGEST_LIFE_MS = 400

interface Told {
  lost: number
  corrupt: number
  acknowledged: number
}

interface Writer {
  child: ChildProcess
  kept: () => string[]
  opened: Promise<void>
  ended: Promise<void>
}

function startWriter(place: string, { clinicId, manager }: BenchClinic): Writer {
  const script = join(ROOT, 'tests/bench/killed-writer.ts')
  const child = spawn(process.execPath, ['--import', 'tsx', script, place, clinicId, manager], {
    cwd: ROOT,
    stdio: ['ignore', 'pipe', 'ignore'],
  })
  let said = ''
  const ended = new Promise<void>((resolve) => child.once('close', () => resolve()))
  const opened = new Promise<void>((resolve, reject) => {
    child.stdout.on('data', (data) => {
      said += data
      if (said.startsWith('open\n')) resolve()
    })
    child.once('exit', () => reject(new Error('The writer ended before it wrote.')))
  })
  return {
    child,
    kept: () => [...said.matchAll(/^kept (\S+)$/gm)].map((match) => match[1] ?? ''),
    opened,
    ended,
  }
}

/** What of the acknowledged is not in the journal, and whether the chain since the last look holds. */
function openCheck(clinic: Pick<BenchClinic, 'clinicId'>) {
  let seen = { revision: 0, digest: '' }
  return async (database: Database, kept: readonly string[]): Promise<Told> => {
    const entries = await asClinic(
      database,
      clinic.clinicId,
      (tx) => readEntries(tx, clinic.clinicId, { after: seen.revision, limit: 1_000_000 }),
      'read',
    )
    const ids = new Set<string>(entries.map(({ commandId }) => commandId))
    const people = await asClinic(
      database,
      clinic.clinicId,
      (tx) => tx`select count(*)::int as count from member`,
      'read',
    )
    const broken = findBreak(entries, seen.digest) !== null
    const last = entries.at(-1)
    if (last) seen = { revision: last.revision, digest: last.digest }
    // One entry founded the clinic, and each since added one person: facts and journal must tell the same.
    const differs = people[0]?.count !== seen.revision
    return {
      lost: kept.filter((id) => !ids.has(id)).length,
      corrupt: Number(broken || differs),
      acknowledged: kept.length,
    }
  }
}

const lifetime = (): number => 5 + Math.random() * LONGEST_LIFE_MS

async function killProcess(place: string, times: number): Promise<Told[]> {
  const open = () => openDatabase(place.startsWith('postgres:') ? { url: place } : { folder: place })
  const first = await open()
  const clinic = await foundClinic(first)
  await first.close()
  const check = openCheck(clinic)
  const told: Told[] = []
  for (let turn = 0; turn < times; turn += 1) {
    const writer = startWriter(place, clinic)
    await writer.opened
    await pause(lifetime())
    writer.child.kill('SIGKILL')
    await writer.ended
    const database = await open()
    told.push(await check(database, writer.kept()))
    await database.close()
  }
  return told
}

async function killDatabase(times: number): Promise<Told[]> {
  const server = await startPostgres()
  const url = await makeDatabase(server.url)
  const first = await openDatabase({ url })
  const clinic = await foundClinic(first)
  await first.close()
  const check = openCheck(clinic)
  const told: Told[] = []
  for (let turn = 0; turn < times; turn += 1) {
    const writer = startWriter(url, clinic)
    await writer.opened
    await pause(lifetime())
    await server.killAndStart()
    writer.child.kill('SIGKILL')
    await writer.ended
    const database = await openDatabase({ url })
    told.push(await check(database, writer.kept()))
    await database.close()
  }
  await server.stop()
  return told
}

const sum = (told: readonly Told[], of: keyof Told): number =>
  told.reduce((total, each) => total + each[of], 0)

/** Kills without warning at any moment, each followed by a look at all that had been acknowledged. */
export async function measureKills(): Promise<Reading[]> {
  const folder = newFolder()
  const server = await startPostgres()
  try {
    const told = [
      ...(await killProcess(folder, KILLS.embedded)),
      ...(await killProcess(await makeDatabase(server.url), KILLS.process)),
      ...(await killDatabase(KILLS.database)),
    ]
    const behind = { kills: told.length, acknowledged: sum(told, 'acknowledged') }
    if (behind.acknowledged === 0) throw new Error('Nothing was acknowledged, so nothing could be lost.')
    return [
      atMost(
        {
          figure: `kill -9 of the writer or the database, ${told.length} times: acknowledged changes lost`,
          unit: 'changes',
          ours: sum(told, 'lost'),
          behind,
        },
        0,
      ),
      atMost(
        { figure: 'the same: times a chain was broken', unit: 'times', ours: sum(told, 'corrupt'), behind },
        0,
      ),
    ]
  } finally {
    await server.stop()
    removeFolder(folder)
  }
}

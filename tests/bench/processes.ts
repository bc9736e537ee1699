import { type ChildProcess, spawn, spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { createServer } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

export const ROOT = fileURLToPath(new URL('../..', import.meta.url))
/** A first start builds, on a machine that may be busy. */
const WELL_WITHIN_MS = 300_000
const ENDED_WITHIN_MS = 15_000

export interface Running {
  address: string
  child: ChildProcess
  said: () => string
  /** Asks it to stop, and after a while ends it. */
  stop: (signal?: NodeJS.Signals) => Promise<void>
}

export interface Launching {
  command: readonly string[]
  port: number
  variables?: Record<string, string>
  folder?: string
  /** The path that answers when it is well. */
  well: string
}

export const freePort = (): Promise<number> =>
  new Promise((resolve, reject) => {
    const server = createServer()
    server.once('error', reject)
    server.listen(0, '127.0.0.1', () => {
      const address = server.address()
      server.close(() => resolve(typeof address === 'object' && address ? address.port : 0))
    })
  })

export const newFolder = (): string => mkdtempSync(join(tmpdir(), 'weirboard-bench-'))
export const removeFolder = (folder: string): void => rmSync(folder, { recursive: true, force: true })

const environment = (variables: Record<string, string>): NodeJS.ProcessEnv => {
  const { DATABASE_URL: _, ...own } = process.env
  return { ...own, HOST: '127.0.0.1', NODE_ENV: 'production', ...variables }
}

/** Runs a process to its end; what it printed is in the error where it fails. */
export function runToEnd(command: readonly string[], folder: string, variables = {}): void {
  const [program = '', ...args] = command
  const { status, stdout, stderr } = spawnSync(program, args, {
    cwd: folder,
    env: environment(variables),
    encoding: 'utf8',
  })
  if (status !== 0) throw new Error(`${command.join(' ')} failed:\n${stdout}\n${stderr}`)
}

/** Starts a process of its own. */
export function launch({ command, port, variables = {}, folder = ROOT }: Launching): Running {
  const [program = '', ...args] = command
  const child = spawn(program, args, {
    cwd: folder,
    env: environment({ PORT: `${port}`, ...variables }),
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let said = ''
  for (const stream of [child.stdout, child.stderr]) {
    stream.on('data', (data) => {
      said = `${said}${data}`.slice(-20_000)
    })
  }
  return {
    address: `http://127.0.0.1:${port}`,
    child,
    said: () => said,
    stop: async (signal = 'SIGTERM') => {
      child.kill(signal)
      const late = setTimeout(() => child.kill('SIGKILL'), ENDED_WITHIN_MS)
      await ended(child)
      clearTimeout(late)
    },
  }
}

const ended = (child: ChildProcess): Promise<void> =>
  child.exitCode !== null || child.signalCode !== null
    ? Promise.resolve()
    : new Promise((resolve) => child.once('exit', () => resolve()))

/** Waits until it answers that it is well. */
export async function untilWell(running: Running, well: string, everyMs = 25): Promise<void> {
  const until = Date.now() + WELL_WITHIN_MS
  while (Date.now() < until && running.child.exitCode === null) {
    const isWell = await fetch(`${running.address}${well}`).then(
      (answer) => answer.ok,
      () => false,
    )
    if (isWell) return
    await pause(everyMs)
  }
  await running.stop('SIGKILL')
  throw new Error(`A process did not start:\n${running.said()}`)
}

export async function start(launching: Launching): Promise<Running> {
  const running = launch(launching)
  await untilWell(running, launching.well)
  return running
}

export const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms))

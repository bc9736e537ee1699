import { type ChildProcess, spawn } from 'node:child_process'
import { cpSync, existsSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

const ROOT = new URL('../..', import.meta.url).pathname
/** Generous: a first start makes the whole invented clinic, on a machine that may be busy. */
const STARTS_WITHIN_MS = 150_000

/** The product as a person would start it. */
export interface Product {
  address: string
  folder: string
  child: ChildProcess
  /** All it has printed. */
  said: () => string
  /** Asks it to stop as a service manager would, and gives its exit code. */
  stop: (signal?: NodeJS.Signals) => Promise<number | null>
}

export interface Starting {
  folder: string
  port: number
  variables?: Record<string, string>
}

/** Starts a process and does not wait for it to be well. */
export function launch({ folder, port, variables = {} }: Starting): Product {
  const { DATABASE_URL: _, ...environment } = process.env
  const child = spawn(process.execPath, ['server/start.mjs'], {
    cwd: ROOT,
    env: {
      ...environment,
      DATA_FOLDER: folder,
      PORT: `${port}`,
      HOST: '127.0.0.1',
      ...variables,
    },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let said = ''
  child.stdout?.on('data', (data) => (said += data))
  child.stderr?.on('data', (data) => (said += data))
  return {
    address: `http://127.0.0.1:${port}`,
    folder,
    child,
    said: () => said,
    stop: async (signal = 'SIGTERM') => {
      if (child.exitCode === null && child.signalCode === null) child.kill(signal)
      return ended(child)
    },
  }
}

export const ended = (child: ChildProcess): Promise<number | null> =>
  child.exitCode !== null || child.signalCode !== null
    ? Promise.resolve(child.exitCode)
    : new Promise((resolve) => child.once('exit', resolve))

/** Starts it and waits until it says that it is well. */
export async function start(starting: Starting): Promise<Product> {
  const product = launch(starting)
  const until = Date.now() + STARTS_WITHIN_MS
  while (Date.now() < until && product.child.exitCode === null) {
    const isWell = await fetch(`${product.address}/healthz`).then(
      (answer) => answer.ok,
      () => false,
    )
    if (isWell) return product
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
  await product.stop('SIGKILL')
  throw new Error(`The product did not start:\n${product.said()}`)
}

export const newFolder = (): string => mkdtempSync(join(tmpdir(), 'weirboard-'))
export const removeFolder = (folder: string): void => rmSync(folder, { recursive: true, force: true })

/** Where the invented clinic stands ready, made once for a run by a first start. */
export const SEEDED = join(ROOT, '.tests/seeded')

/** A folder with the invented clinic at the start of its day. */
export function copySeeded(): string {
  if (!existsSync(SEEDED))
    throw new Error('The invented clinic was not made: run the stories by their own configuration.')
  const folder = newFolder()
  cpSync(SEEDED, folder, { recursive: true })
  return folder
}

import { type ChildProcess, spawn } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type Browser, type BrowserContext, test as base, expect, type Page } from '@playwright/test'

const PORT = Number(process.env.SCREENS_PORT ?? 3210)
const ADDRESS = `http://127.0.0.1:${PORT}`
const STARTS_WITHIN_MS = 60_000

interface RunningClinic {
  address: string
  folder: string
  stop: () => Promise<void>
}

/** Starts the product as a person would, on a folder of its own, and waits until it is well. */
export async function startClinic(variables: Record<string, string> = {}): Promise<RunningClinic> {
  const folder = mkdtempSync(join(tmpdir(), 'weirboard-'))
  const child = spawn(process.execPath, ['server/start.mjs'], {
    cwd: new URL('../..', import.meta.url).pathname,
    env: {
      ...process.env,
      DATA_FOLDER: folder,
      PORT: String(PORT),
      HOST: '127.0.0.1',
      DATABASE_URL: '',
      ...variables,
    },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let said = ''
  child.stdout.on('data', (data) => (said += data))
  child.stderr.on('data', (data) => (said += data))
  const until = Date.now() + STARTS_WITHIN_MS
  while (Date.now() < until && child.exitCode === null) {
    const well = await fetch(`${ADDRESS}/healthz`).then(
      (answer) => answer.ok,
      () => false,
    )
    if (well) return { address: ADDRESS, folder, stop: () => stop(child, folder) }
    await new Promise((resolve) => setTimeout(resolve, 200))
  }
  child.kill('SIGKILL')
  throw new Error(`The clinic did not start:\n${said}`)
}

async function stop(child: ChildProcess, folder: string): Promise<void> {
  const ended = new Promise((resolve) => child.once('exit', resolve))
  child.kill('SIGTERM')
  await ended
  rmSync(folder, { recursive: true, force: true })
}

/** A person at a screen of their own. */
export interface Person {
  page: Page
  context: BrowserContext
}

async function signIn(
  browser: Browser,
  name: string,
  options: Parameters<Browser['newContext']>[0],
): Promise<Person> {
  const context = await browser.newContext({ baseURL: ADDRESS, ...options })
  const page = await context.newPage()
  page.on('pageerror', (error) => {
    throw new Error(`${name}'s screen failed: ${error.message}`)
  })
  await page.goto('/sign-in')
  await page.getByRole('button', { name: new RegExp(name) }).click()
  await expect(page).toHaveURL(/board|day/)
  return { page, context }
}

/** Stories on the invented clinic: one process per story file, one browser context per person. */
export const test = base.extend<
  { person: (name: string, options?: Parameters<Browser['newContext']>[0]) => Promise<Person> },
  { clinic: RunningClinic }
>({
  clinic: [
    // biome-ignore lint/correctness/noEmptyPattern: the library reads the fixture's dependencies from this pattern
    async ({}, use) => {
      const clinic = await startClinic()
      await use(clinic)
      await clinic.stop()
    },
    { scope: 'worker', timeout: 90_000 },
  ],
  person: async ({ browser, clinic: _ }, use) => {
    const people: Person[] = []
    await use(async (name, options = {}) => {
      const person = await signIn(browser, name, options)
      people.push(person)
      return person
    })
    for (const { context } of people) await context.close()
  },
})
export { expect }

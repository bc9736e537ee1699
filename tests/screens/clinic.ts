import { type Browser, type BrowserContext, test as base, expect, type Page } from '@playwright/test'
import { copySeeded, type Product, removeFolder, start } from './product.ts'

/** A person at a screen of their own. */
export interface Person {
  name: string
  page: Page
  context: BrowserContext
}

type ContextOptions = NonNullable<Parameters<Browser['newContext']>[0]>

async function signIn(browser: Browser, name: string, options: ContextOptions): Promise<Person> {
  const context = await browser.newContext(options)
  const page = await context.newPage()
  await page.goto('/sign-in')
  // A touch before the page listens does nothing, so it is tried until it does.
  await expect(async () => {
    // Nor is one touched again that was taken, however long the way in takes.
    if (/sign-in/.test(page.url())) {
      const isIn = /board|day/.test(new URL(page.url()).pathname)
      if (!isIn) await page.getByRole('button', { name: new RegExp(`^${name}`) }).click({ timeout: 2_000 })
    }
    await expect(page).toHaveURL(/board|day/, { timeout: 3_000 })
  }).toPass()
  return { name, page, context }
}

interface Fixtures {
  /** Opens a browser of its own and signs in there by one touch. */
  person: (name: string, options?: ContextOptions) => Promise<Person>
}
interface WorkerFixtures {
  /** Names the story: each has a process and a clinic of its own. */
  story: string
  clinic: Product
}

/** Stories on the invented clinic at 08:40: one process per story, one browser context per person. */
export const test = base.extend<Fixtures, WorkerFixtures>({
  story: ['shared', { option: true, scope: 'worker' }],
  clinic: [
    async ({ story: _ }, use, { workerIndex }) => {
      const folder = copySeeded()
      const port = Number(process.env.SCREENS_PORT ?? 3210) + (workerIndex % 50)
      const clinic = await start({ folder, port })
      await use(clinic)
      await clinic.stop()
      removeFolder(folder)
    },
    { scope: 'worker', timeout: 180_000 },
  ],
  baseURL: async ({ clinic }, use) => use(clinic.address),
  person: async ({ browser, clinic }, use) => {
    const people: Person[] = []
    const failures: string[] = []
    await use(async (name, options = {}) => {
      const person = await signIn(browser, name, { baseURL: clinic.address, ...options })
      person.page.on('pageerror', (error) => failures.push(`${name}: ${error.message}`))
      people.push(person)
      return person
    })
    for (const { context } of people) await context.close()
    expect(failures, 'no screen failed on the way').toEqual([])
  },
})
export { expect }

/** Takes a way of the frame, as a person does. */
export async function goTo(page: Page, place: 'Board' | 'Trays' | 'Day'): Promise<void> {
  await page.getByRole('navigation', { name: 'Screens' }).getByRole('link', { name: place }).click()
  await expect(page).toHaveURL(new RegExp(`/${place.toLowerCase()}$`))
}

/** Opens a patient's plan page from the board. */
export async function openPlan(page: Page, patient: string): Promise<void> {
  await goTo(page, 'Board')
  await page.getByRole('link', { name: new RegExp(patient) }).click()
  await expect(page.getByRole('button', { name: 'Stop, check side' })).toBeVisible()
}

/** Opens the plan of somebody who comes later in the day, from the board that stands. */
export async function openLater(page: Page, patient: string): Promise<void> {
  await page.getByText(/^Later today/).click()
  await page.getByRole('link', { name: new RegExp(patient) }).click()
  await expect(page.getByRole('button', { name: 'Stop, check side' })).toBeVisible()
}

/** Touches a button by its name and waits until the screen takes touches again. */
export async function touch(page: Page, name: string | RegExp): Promise<void> {
  const button = page.getByRole('button', { name, exact: typeof name === 'string' })
  await expect(button).toBeEnabled()
  await button.click()
  // Until its command is on its way the screen takes another touch.
  await page.waitForTimeout(150)
}

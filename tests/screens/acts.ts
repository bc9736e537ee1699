import { fileURLToPath } from 'node:url'
import { expect, type Locator, type Page } from '@playwright/test'
import { goTo, touch } from './clinic.ts'

export const fileNamed = (name: string): string => fileURLToPath(new URL(`files/${name}`, import.meta.url))

/** Chooses a file and names where it comes from; nothing is read yet. */
export async function chooseFile(page: Page, name: string, source: string): Promise<void> {
  await page.getByLabel(/CSV, FHIR/).setInputFiles(fileNamed(name))
  await page.getByLabel('Where it comes from').fill(source)
}

export async function openImport(page: Page): Promise<void> {
  await goTo(page, 'Day')
  await page.getByRole('link', { name: 'Read in a day list' }).click()
  await expect(page.getByRole('heading', { name: 'Read in a day list' })).toBeVisible()
}

export async function preview(page: Page): Promise<Locator> {
  await touch(page, /^Look first/)
  const card = page.getByRole('region', { name: 'What it would do' })
  await expect(card).toBeVisible()
  return card
}

export async function readIn(page: Page): Promise<void> {
  await touch(page, 'Read it in')
  await expect(page.getByRole('region', { name: 'Read in', exact: true })).toBeVisible()
}

/** Everything on the tray is looked at and ticked; packs come off the invented shelf. */
export async function tickAllLines(page: Page): Promise<void> {
  const open = page.getByRole('button', { name: /^(There|There, looked over|Take one off the shelf):/ })
  await expect(open.first()).toBeVisible()
  // A clamp is looked over by touches of their own before it is there.
  for (const look of [/^No rust, crack or bend:/, /^Floss through both holes:/]) {
    for (const button of await page.getByRole('button', { name: look }).all()) await button.click()
  }
  for (let left = await open.count(); left > 0; left = await open.count()) {
    await open.first().click()
    await expect(open).toHaveCount(left - 1)
  }
}

/** At the chair every pack of the tray is looked at and opened; nothing is proven before. */
export async function openPacks(page: Page): Promise<void> {
  for (const sound of await page.getByRole('button', { name: 'Sound, both marks changed' }).all()) {
    await sound.click()
  }
  await touch(page, /^Opened/)
  await expect(page.getByText('Count back from the chair')).toBeVisible()
}

/** Answers every place of the numbness list. */
export async function sayAllNumb(page: Page): Promise<void> {
  const part = page.getByRole('region', { name: 'Before the clamp goes on' })
  for (const button of await part.getByRole('button', { name: /: Numb$/ }).all()) {
    await button.click()
    await page.waitForTimeout(400)
  }
  await expect(part.getByText('not tested yet')).toHaveCount(0)
}

/** The planned cartridge's label is read aloud by one and answered by another. */
export async function readLabel(reader: Page, answerer: Page): Promise<void> {
  await reader.getByLabel('Drug and strength').selectOption('lidocaine 2 %, epinephrine 1 : 100 000')
  await reader.getByLabel('To be used by').fill('2027-12')
  await touch(reader, /^Read aloud/)
  await touch(answerer, /^I heard it/)
  await expect(answerer.getByText(/to be used by 31 Dec 2027, read by .*, answered by/)).toBeVisible()
}

/** How long, in milliseconds, until something stands on a screen. */
export async function timeUntil(shown: () => Promise<void>): Promise<number> {
  const began = performance.now()
  await shown()
  return performance.now() - began
}

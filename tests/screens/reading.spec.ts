import type { Page } from '@playwright/test'
import { chooseFile, openImport, preview, readIn } from './acts.ts'
import { expect, test } from './clinic.ts'

test.use({ story: 'reading' })

/** What each header of the file holds; the file's own words say none of it. */
const COLUMNS = {
  Ref: 'appointment’s own number',
  On: 'day',
  From: 'time',
  Long: 'length in minutes',
  Chair: 'operatory',
  Person: 'patient’s whole name',
  DOB: 'birth date',
  For: 'what for',
}

async function mapColumns(page: Page): Promise<void> {
  const part = page.getByRole('region', { name: 'What each column holds' })
  for (const [header, field] of Object.entries(COLUMNS))
    await part.getByLabel(new RegExp(`^${header}(:|$)`)).selectOption({ label: field })
}

/** A count of the preview as it is said: `2 new`. */
const count = (page: Page, words: RegExp) =>
  page.getByRole('region', { name: 'What it would do' }).getByRole('listitem').filter({ hasText: words })

test('a list with columns of its own: mapped, previewed, read in, sent again changed, a row settled, a word taught', async ({
  person,
}) => {
  test.setTimeout(180_000)
  const { page } = await person('Noor Kallas')
  await openImport(page)

  await test.step('the columns are mapped beside a sample of each', async () => {
    await chooseFile(page, 'diary.csv', 'paper diary')
    await preview(page)
    await mapColumns(page)
    await preview(page)
    await expect(count(page, /\bnew$/)).toHaveText('2 new')
    await expect(page.getByText('after lunch').first()).toBeVisible()
  })

  await test.step('it is read in; the row that could not be taken waits with its own words', async () => {
    await readIn(page)
    const settle = page.getByRole('region', { name: /^Rows to settle/ })
    const row = settle.getByRole('listitem').filter({ hasText: 'Rusk, Ada' })
    await row.getByLabel('What was done about it').fill('Rang her: comes tomorrow')
    await row.getByRole('button', { name: 'Settled' }).click()
    await expect(row).toHaveCount(0)
  })

  await test.step('a word that nobody here has explained is asked once and remembered', async () => {
    const words = page.getByRole('region', { name: /^Words that say nothing/ })
    const row = words.getByRole('listitem').filter({ hasText: 'zirc fit 46' })
    await row.getByLabel('mean here').selectOption('conventional-cementation')
    await row.getByRole('button', { name: 'Teach zirc fit' }).click()
    await expect(row).toHaveCount(0)
  })

  await test.step('sent again with one time changed, its columns are known and one appointment moves', async () => {
    await chooseFile(page, 'diary-moved.csv', 'paper diary')
    await preview(page)
    await expect(count(page, /\bnew$/)).toHaveText('0 new')
    await expect(count(page, /\bchanged$/)).toHaveText('1 changed')
    await expect(page.getByText(/“zirc fit” is read as .*the clinic’s own word/)).toBeVisible()
    await readIn(page)
    const settle = page.getByRole('region', { name: /^Rows to settle/ })
    await expect(settle.getByRole('listitem').filter({ hasText: 'Rusk, Ada' })).toHaveCount(0)
  })

  await test.step('the file is there again as it came', async () => {
    const runs = page.getByRole('region', { name: 'Read in lately' })
    const coming = page.waitForEvent('download')
    await runs.getByRole('link', { name: /diary-moved\.csv as it came/ }).click()
    expect((await coming).suggestedFilename()).toBe('diary-moved.csv')
  })

  await test.step('and the moved one stands where the list put it', async () => {
    await page.getByRole('navigation', { name: 'Screens' }).getByRole('link', { name: 'Day' }).click()
    await expect(page.getByRole('listitem').filter({ hasText: 'O. Pell' })).toContainText('15:20')
  })
})

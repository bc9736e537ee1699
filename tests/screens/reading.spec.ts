import type { Page } from '@playwright/test'
import { list, row } from '../server/imports/small-clinic.ts'
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

/** Days of fifty each, long enough that reading them takes a while. */
const longList = (rows: number): Buffer =>
  Buffer.from(
    list(
      ...Array.from({ length: rows }, (_, index) =>
        row({
          id: `long${index}`,
          day: `2027-0${2 + (Math.floor(index / 50) % 8)}-${10 + (Math.floor(index / 400) % 18)}`,
          start: `${String(8 + (index % 10)).padStart(2, '0')}:${['00', '15', '30', '45'][index % 4]}`,
          patient: `Family${index}, Given`,
          operatory: '',
          dentist: '',
          work: ['comp 46 MO', 'RCT 36', 'exam'][index % 3] ?? '',
        }),
      ),
    ),
  )

test('a long list says where it stands and can be stopped: then nothing of it was taken', async ({
  person,
}) => {
  test.setTimeout(240_000)
  const { page } = await person('Noor Kallas')
  await openImport(page)
  const bring = async (rows: number) => {
    const file = { name: 'long.csv', mimeType: 'text/csv', buffer: longList(rows) }
    await page.getByLabel(/CSV, FHIR/).setInputFiles(file)
    await page.getByLabel('Where it comes from').fill('long lists')
    await preview(page)
    await expect(count(page, /\bnew$/)).toHaveText(`${rows} new`)
  }
  const standing = page.getByRole('status').filter({ hasText: /\d+ rows|being read|on its way/ })

  await test.step('stopped while it is compared', async () => {
    await bring(4000)
    await page.getByRole('button', { name: 'Read it in' }).click()
    await expect(standing).toContainText('4000 rows are compared with what is known.')
    await standing.getByRole('button', { name: 'Stop' }).click()
    await expect(page.getByText('The reading was stopped.')).toBeVisible()
    await expect(standing).toHaveCount(0)
    await page.reload()
    await expect(page.getByRole('region', { name: 'Read in lately' })).not.toContainText('long.csv')
  })

  await test.step('the same file later is all new, and is taken whole', async () => {
    await bring(1000)
    await page.getByRole('button', { name: 'Read it in' }).click()
    await expect(standing).toBeVisible()
    await expect(page.getByRole('region', { name: 'Read in', exact: true })).toBeVisible({ timeout: 60_000 })
    await expect(page.getByRole('region', { name: 'Read in lately' })).toContainText('1000 new')
  })
})

test('what a file speaks for is said, and can be said otherwise', async ({ person }) => {
  const { page } = await person('Noor Kallas')
  await openImport(page)
  const part = page.getByRole('region', { name: 'What it speaks for' })
  const bring = (...rows: string[]) =>
    page.getByLabel(/CSV, FHIR/).setInputFiles({
      name: 'week.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from(list(...rows)),
    })
  const first = row({ id: 'one', day: '2027-01-12', patient: 'Pell, Otis', dentist: '' })
  const second = row({ id: 'two', day: '2027-01-13', patient: 'Rusk, Ada', dentist: '' })
  await bring(first, second)
  await page.getByLabel('Where it comes from').fill('week list')
  await preview(page)
  await expect(part).toContainText('For 2 days from Tuesday 12 January to Wednesday 13 January, Operatory 1.')
  await readIn(page)

  await bring(first)
  await preview(page)
  await expect(part).toContainText('For Tuesday 12 January, Operatory 1.')
  await expect(count(page, /no longer listed/)).toHaveText(/^0 /)
  await part.getByLabel('It is').selectOption({ label: 'the whole list of the days below' })
  await part.getByLabel('Last day').fill('2027-01-13')
  await expect(page.getByText('look once more before it is read in')).toBeVisible()
  await expect(page.getByRole('button', { name: 'Read it in' })).toHaveCount(0)
  await preview(page)
  await expect(count(page, /no longer listed/)).toHaveText(/^1 /)
  await part.getByLabel('It is').selectOption({ label: 'a part: nothing is missing from it' })
  await preview(page)
  await expect(count(page, /no longer listed/)).toHaveText(/^0 /)
})

test('a day is given out under a secret address, taken back, and who did it is kept', async ({
  person,
  clinic,
}) => {
  const { page } = await person('Ingrid Vasarely')
  await page.goto('/day')
  await page.getByRole('link', { name: 'Give the day back' }).click()
  const row = page
    .getByRole('listitem')
    .filter({ hasText: 'Operatory 4' })
    .filter({ has: page.getByRole('button') })
  await row.getByRole('button', { name: 'New address for Operatory 4', exact: true }).click()
  const address = (await row.getByRole('status').locator('code').textContent()) ?? ''
  const read = await fetch(address)
  expect(read.headers.get('content-type')).toContain('text/calendar')
  expect(await read.text()).not.toContain('Pryce')
  await expect(row).toContainText('times, operatory and kind of work')

  await row.getByRole('button', { name: 'Revoke the address of Operatory 4' }).click()
  await expect(row).toContainText('No address.')
  expect((await fetch(address)).status).toBe(404)
  const kept = page.getByRole('region', { name: 'Who gave out which days' })
  await expect(kept.getByRole('listitem')).toHaveCount(2)
  await expect(kept).toContainText('I. Vasarely gave out Operatory 4')
  await expect(kept).toContainText('I. Vasarely took back Operatory 4')
  expect(clinic.said()).not.toContain(address.slice(-40))

  const desk = await person('Noor Kallas')
  await desk.page.goto('/day/giving-back')
  await expect(desk.page.getByRole('region', { name: 'Who gave out which days' })).toHaveCount(0)
})

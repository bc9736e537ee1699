import type { Page } from '@playwright/test'
import { list, row } from '../server/imports/small-clinic.ts'
import { openImport, preview, readIn } from './acts.ts'
import { expect, test, touch } from './clinic.ts'

test.use({ story: 'names' })

const file = (id: string): string =>
  list(
    row({ id, start: '17:10', operatory: 'Blue room', dentist: 'Dr X', patient: 'Ames, Ivy' }),
    row({ id: 'n2', start: '17:40', operatory: 'Blue room', dentist: 'Dr Feher', patient: 'Bold, Kit' }),
  )

async function bring(page: Page, id = 'n1'): Promise<void> {
  const names = { name: 'names.csv', mimeType: 'text/csv', buffer: Buffer.from(file(id)) }
  await page.getByLabel(/CSV, FHIR/).setInputFiles(names)
  await page.getByLabel('Where it comes from').fill('other diary')
  await preview(page)
}

const count = (page: Page, words: RegExp) =>
  page.getByRole('region', { name: 'What it would do' }).getByRole('listitem').filter({ hasText: words })
const unknown = (page: Page) => page.getByRole('region', { name: /^Names that are not known here/ })

test('a room and a dentist under names of their own: told, chosen, counted, read in, and not asked again', async ({
  person,
}) => {
  test.setTimeout(120_000)
  const { page } = await person('Noor Kallas')
  await openImport(page)

  await test.step('each name is told once, with how many rows use it', async () => {
    await bring(page)
    await expect(unknown(page)).toHaveAccessibleName('Names that are not known here: 2')
    await expect(count(page, /\bnew$/)).toHaveText('2 new')
    await expect(count(page, /to be settled$/)).toHaveText('3 to be settled')
  })

  await test.step('what it means is chosen, remembered, and the file is looked at again', async () => {
    await unknown(page).getByLabel('“Blue room”, operatory of 2 rows').selectOption({ label: 'Operatory 10' })
    await unknown(page).getByLabel('“Dr X”, dentist of 1 row').selectOption({ label: 'Prof. Brandt' })
    await touch(page, /^Remember, and look again/)
    await expect(unknown(page)).toHaveCount(0)
    await expect(count(page, /\bnew$/)).toHaveText('2 new')
    await expect(count(page, /to be settled$/)).toHaveText('0 to be settled')
  })

  await test.step('it is read in, and sent again it asks nothing', async () => {
    await readIn(page)
    await bring(page)
    await expect(count(page, /\bunchanged$/)).toHaveText('2 unchanged')
    await expect(count(page, /to be settled$/)).toHaveText('0 to be settled')
    await expect(unknown(page)).toHaveCount(0)
    await page.getByRole('navigation', { name: 'Screens' }).getByRole('link', { name: 'Day' }).click()
    const line = page.getByRole('listitem').filter({ hasText: 'I. Ames' })
    await expect(line).toContainText('Operatory 10 · Prof. Brandt')
  })

  await test.step('in the settings a meaning is corrected and a name forgotten: the next file asks again', async () => {
    const manager = (await person('Ingrid Vasarely')).page
    await manager.getByRole('navigation', { name: 'Screens' }).getByRole('link', { name: 'Settings' }).click()
    const parts = manager.getByRole('navigation', { name: 'Settings' })
    await parts.getByRole('link', { name: 'Names in files' }).click()
    const source = manager.getByRole('region', { name: 'other diary' })
    await source.getByLabel('“blue room” means the operatory').selectOption({ label: 'Operatory 9' })
    await touch(manager, 'Keep what blue room means')
    await expect(manager.getByRole('button', { name: 'Keep what blue room means' })).toBeDisabled()
    await touch(manager, 'Forget dr x')
    await expect(source.getByLabel('“dr x” means the dentist')).toHaveCount(0)
    await openImport(manager)
    await bring(manager, 'n3')
    await expect(unknown(manager)).toHaveAccessibleName('Names that are not known here: 1')
    await expect(unknown(manager).getByLabel('“Dr X”, dentist of 1 row')).toBeVisible()
  })
})

import { expect, test, touch } from './clinic.ts'

test.use({ story: 'settings' })

test('[room/booked-ahead] an operatory gets another name; one with bookings ahead is not retired', async ({
  person,
}) => {
  const { page } = await person('Ingrid Vasarely')
  await page.goto('/settings/operatories')
  const rooms = page.getByRole('region', { name: 'Operatories of Lanternfield' })
  const row = (name: string) => rooms.getByRole('listitem').filter({ hasText: name })
  await row('Operatory 8').getByText('Operatory 8', { exact: true }).click()
  await page.getByLabel('Name or number of Operatory 8').fill('8 north')
  await row('Operatory 8').getByRole('button', { name: 'Keep this name' }).click()
  await expect(row('8 north')).toBeVisible()
  await row('8 north')
    .getByRole('button', { name: /^Retire it/ })
    .click()
  await expect(page.getByRole('alert').filter({ hasText: 'still booked' })).toBeVisible()
})

test('an operatory that nobody is booked into is retired, has no lane, and comes back', async ({
  person,
}) => {
  const { page } = await person('Ingrid Vasarely')
  const board = await person('Dr Ilan Feher')
  await page.goto('/settings/operatories')
  await page.getByLabel('Name or number', { exact: true }).fill('11')
  await touch(page, 'Add operatory')
  const lane = board.page.getByText('11', { exact: true })
  await expect(lane).toBeVisible()
  const row = page.getByRole('listitem').filter({ hasText: 'Operatory 11' })
  await row.getByText('Operatory 11', { exact: true }).click()
  await row.getByRole('button', { name: /^Retire it/ }).click()
  await expect(row).toContainText('retired')
  await expect(lane).toHaveCount(0)
  await row.getByRole('button', { name: /^In use again/ }).click()
  await expect(lane).toBeVisible()
})

test('a person’s name changes for every screen', async ({ person }) => {
  const { page } = await person('Ingrid Vasarely')
  await page.goto('/settings/people')
  await page.getByText('Sanne Wolters', { exact: true }).click()
  await page.getByLabel('Name of Sanne Wolters').fill('Sanne Amsel')
  await page.getByLabel('Sanne Wolters on the board').fill('S. Amsel')
  await touch(page, 'Keep name and roles')
  await expect(page.getByText('Sanne Amsel', { exact: true })).toBeVisible()
  const { page: board } = await person('Dr Ilan Feher')
  await expect(board.getByText('S. Amsel').first()).toBeVisible()
})

import type { Page } from '@playwright/test'
import { expect, test } from './clinic.ts'
import { act, write } from './keys.ts'

test.use({ story: 'digits' })
test.setTimeout(120_000)

const PASSWORD = 'ten characters or more'
const alertIn = (page: Page) => page.getByRole('main').getByRole('alert')

interface Form {
  digits: string
  again?: string
  password?: string
}
async function keep(page: Page, { digits, again = digits, password = PASSWORD }: Form): Promise<void> {
  await write(page, /^New digits/, digits)
  await write(page, /^The same digits again/, again)
  await write(page, /^Your password/, password)
  await page.keyboard.press('Enter')
}

test('one’s own digits, by keyboard alone: set, mistyped, by a wrong password, changed; a station opens by the last alone', async ({
  person,
  clinic,
  browser,
}) => {
  const manager = await person('Ingrid Vasarely')
  const boss = manager.page
  await boss.goto('/settings/people')
  await write(boss, /^Name$/, 'Ada Newcomer')
  await write(boss, /^E-mail to sign in with/, 'ada@weirboard.invalid')
  await write(boss, /^First password/, PASSWORD)
  await boss.getByRole('region', { name: 'Someone new' }).getByRole('button', { name: 'assistant' }).click()
  await act(boss, /^Add$/)
  await expect(boss.getByText('Ada Newcomer is added and can sign in.')).toBeVisible()

  const context = await browser.newContext({ baseURL: clinic.address })
  const page = await context.newPage()
  await context.request.post('/api/auth/sign-in/email', {
    data: { email: 'ada@weirboard.invalid', password: PASSWORD },
  })
  await page.goto('/board')
  await expect(page.getByRole('link', { name: 'Ada Newcomer' })).toBeVisible()
  await act(page, /^Ada Newcomer$/)
  await expect(page.getByRole('heading', { name: 'Your digits' })).toBeVisible()

  await test.step('what is too short, mistyped or not by their password is told in words and kept nowhere', async () => {
    await keep(page, { digits: '12' })
    await expect(alertIn(page)).toContainText('Digits are four to eight')
    await keep(page, { digits: '2468', again: '2486' })
    await expect(alertIn(page)).toContainText('The digits differ. Your digits stay as they were.')
    await keep(page, { digits: '2468', password: 'not the right one' })
    await expect(alertIn(page)).toContainText('This is not your password. Your digits stay as they were.')
    await expect(page.getByText(/^Kept\./)).toHaveCount(0)
  })

  await test.step('set, then changed: what was told before is gone from the screen', async () => {
    for (const digits of ['2468', '13579']) {
      await keep(page, { digits })
      await expect(page.getByText(/^Kept\. From now on only these/)).toBeVisible()
      await expect(alertIn(page)).toHaveCount(0)
      await expect(page.getByLabel('New digits')).toHaveValue('')
    }
  })

  await boss.getByLabel('What this device is called').fill('Operatory 2')
  await act(boss, /^Make this device a shared station/)
  await expect(boss.getByRole('heading', { name: 'Who is here?' })).toBeVisible()
  await act(boss, /^Ada Newcomer/)

  await test.step('the station knows the last digits alone', async () => {
    await write(boss, /^Your digits/, '2468')
    await boss.keyboard.press('Enter')
    await expect(alertIn(boss)).toContainText('These are not the digits of this person.')
    await write(boss, /^Your digits/, '13579')
    await boss.keyboard.press('Enter')
    await expect(boss).toHaveURL(/board/)
    await expect(boss.getByText('Ada Newcomer')).toBeVisible()
  })
  await context.close()
})

import { fileURLToPath } from 'node:url'
import type { Page } from '@playwright/test'
import { expect, openPlan, test } from './clinic.ts'

/**
 * Takes the pictures of the read-me from the product itself, at 08:40 of the invented day. By hand, when a screen has
 * changed: `npx playwright test -c tests/pictures.config.ts`
 */
test.use({ story: 'pictures' })

const SIZE = { width: 1440, height: 900 }
const LOOKS = ['light', 'dark'] as const
const pathOf = (name: string): string => fileURLToPath(new URL(`pictures/${name}.png`, import.meta.url))

async function take(page: Page, name: string): Promise<void> {
  await expect(page.getByText(/^Up to date/)).toBeVisible()
  await page.evaluate(() => document.fonts.ready)
  await page.mouse.move(0, 0)
  await page.screenshot({ path: pathOf(name), animations: 'disabled' })
}

for (const colorScheme of LOOKS) {
  test(`the board and a plan, ${colorScheme}`, async ({ person }) => {
    const { page } = await person('Dr Maeve Corrigan', { colorScheme, viewport: SIZE })
    await expect(page.getByText('O. Lindahl')).toBeVisible()
    await take(page, `board-${colorScheme}`)
    await openPlan(page, 'O\\. Lindahl')
    await take(page, `plan-${colorScheme}`)
  })
}

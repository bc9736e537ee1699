import AxeBuilder from '@axe-core/playwright'
import type { Page } from '@playwright/test'
import { expect, goTo, openPlan, test } from './clinic.ts'

test.use({ story: 'axe' })
const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']

for (const colorScheme of ['light', 'dark'] as const) {
  test(`axe finds nothing on any screen, ${colorScheme}`, async ({ person, browser, clinic }) => {
    test.setTimeout(180_000)
    const faults: string[] = []
    const look = async (page: Page, screen: string) => {
      const { violations } = await new AxeBuilder({ page })
        .withTags(TAGS)
        .options({ rules: { 'target-size': { enabled: true } } })
        .analyze()
      for (const { id, nodes } of violations)
        faults.push(`${screen}: ${id}: ${nodes.map(({ target }) => target).join(' · ')}`)
    }
    const stranger = await browser.newContext({ baseURL: clinic.address, colorScheme })
    const door = await stranger.newPage()
    await door.goto('/sign-in')
    await look(door, 'sign-in')
    await stranger.close()

    const { page } = await person('Dr Ilan Feher', { colorScheme })
    await look(page, 'board')
    await openPlan(page, 'G\\. Pryce')
    await look(page, 'plan page')
    await goTo(page, 'Trays')
    await look(page, 'trays')
    await page.getByRole('link', { name: /Operatory 4 · 08:40/ }).click()
    await expect(page.getByRole('heading', { name: /^Tray for/ })).toBeVisible()
    await look(page, 'one tray')
    const desk = await person('Noor Kallas', { colorScheme })
    await goTo(desk.page, 'Day')
    await look(desk.page, 'day')
    await desk.page.getByRole('link', { name: 'Read in a day list' }).click()
    await expect(desk.page.getByRole('heading', { name: 'Read in a day list' })).toBeVisible()
    await look(desk.page, 'import')
    await desk.page.goto('/wall')
    await look(desk.page, 'wall')
    expect(faults).toEqual([])
  })
}

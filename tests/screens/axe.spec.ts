import AxeBuilder from '@axe-core/playwright'
import type { Page } from '@playwright/test'
import { expect, goTo, openPlan, test } from './clinic.ts'

test.use({ story: 'axe' })
const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']

for (const colorScheme of ['light', 'dark'] as const) {
  test(`axe finds nothing on any screen, ${colorScheme}`, async ({ person, browser, clinic }) => {
    test.setTimeout(240_000)
    const faults: string[] = []
    const look = async (page: Page, screen: string, heading: RegExp) => {
      await expect(page.getByRole('heading', { name: heading }).first()).toBeVisible()
      // What a bar that stays in view covers for the moment is not small.
      await page.evaluate(() => window.scrollTo(0, 0))
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
    await look(door, 'sign-in', /./)
    await stranger.close()

    const { page } = await person('Dr Ilan Feher', { colorScheme })
    await look(page, 'board', /Lanternfield/)
    await openPlan(page, 'G\\. Pryce')
    const plan = page.url()
    await look(page, 'plan page', /Plan \d/)
    await page.getByRole('link', { name: 'Open the guide at the chair' }).click()
    await look(page, 'guide', /./)
    await page.goto(plan)
    await page.getByText('Look at the mouth, or chart it').click()
    await look(page, 'mouth on the plan page', /Mouth/)
    await goTo(page, 'Trays')
    await look(page, 'trays', /Trays/)
    await page.getByRole('link', { name: /Operatory 4 · 08:40/ }).click()
    await look(page, 'one tray', /^Tray for/)

    const instructor = await person('Prof. Aldo Brandt', { colorScheme })
    await instructor.page.goto('/signoffs')
    await look(instructor.page, 'sign-offs', /Chairs that wait for you/)

    const lead = await person('Wiktor Zielak', { colorScheme })
    await lead.page.goto('/sterilising')
    await look(lead.page, 'sterilising', /^Sterilising/)
    await lead.page.getByRole('link', { name: 'Recall from this day' }).click()
    await expect(lead.page).toHaveURL(/recall/)
    await look(lead.page, 'recall', /Recall/)
    for (const [path, heading] of [
      ['/trays/stock', /^Stock/],
      ['/trays/sets', /^Sets between sites/],
    ] as const) {
      await lead.page.goto(path)
      await look(lead.page, path, heading)
    }

    const manager = await person('Ingrid Vasarely', { colorScheme })
    await manager.page.goto('/settings')
    const parts = manager.page.getByRole('navigation', { name: 'Settings' }).getByRole('link')
    await expect(parts.first()).toBeVisible()
    for (const part of await parts.allInnerTexts()) {
      await parts.filter({ hasText: new RegExp(`^${part}$`) }).click()
      await expect(parts.filter({ hasText: part })).toHaveAttribute('aria-current', 'page')
      await look(manager.page, `settings, ${part}`, /./)
    }

    const desk = await person('Noor Kallas', { colorScheme })
    await goTo(desk.page, 'Day')
    await look(desk.page, 'day', /./)
    await desk.page.getByRole('link', { name: 'Who works when' }).click()
    await look(desk.page, 'who works when', /Who works when/)
    await desk.page.getByRole('button', { name: 'Dr Feher is away today' }).click()
    await look(desk.page, 'who is away', /Dr Feher is away today/)
    await desk.page.getByRole('button', { name: 'Leave it as it is' }).click()
    await goTo(desk.page, 'Day')
    await desk.page.getByRole('link', { name: 'Read in a day list' }).click()
    await look(desk.page, 'import', /Read in a day list/)
    await desk.page.goto('/day/giving-back')
    await look(desk.page, 'giving back', /Give the day back/)
    await desk.page.goto('/wall')
    await look(desk.page, 'wall', /./)
    expect(faults).toEqual([])
  })
}

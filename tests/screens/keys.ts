import { expect, type Page } from '@playwright/test'

/** More stops than any screen has. */
const MOST_STOPS = 400

/** What the focus stands on, by the name it is read out with. */
const focused = (page: Page): Promise<string> =>
  page.evaluate(() => {
    const element = document.activeElement
    if (!(element instanceof HTMLElement) || element === document.body) return ''
    const labels = 'labels' in element ? [...((element.labels as NodeListOf<HTMLElement> | null) ?? [])] : []
    // biome-ignore lint/performance/useDomNodeTextContent: as it is laid out, since neighbouring blocks are read as words apart
    const name = element.getAttribute('aria-label') ?? labels.map((label) => label.innerText).join(' ')
    // biome-ignore lint/performance/useDomNodeTextContent: the same
    return (name || element.innerText || '').replace(/\s+/g, ' ').trim()
  })

/** Goes to a control by the Tab key alone. */
export async function tabTo(page: Page, name: RegExp): Promise<void> {
  for (let stop = 0; stop < MOST_STOPS; stop += 1) {
    if (name.test(await focused(page))) return
    await page.keyboard.press('Tab')
  }
  throw new Error(`No control named ${name} is reached by Tab.`)
}

/** Goes to a control by Tab and acts on it by Enter, once the screen shows it. */
export async function act(page: Page, name: RegExp): Promise<void> {
  await expect(
    page
      .getByRole('button', { name })
      .or(page.getByRole('link', { name }))
      .or(page.locator('summary').filter({ hasText: name }))
      .first(),
  ).toBeVisible()
  await tabTo(page, name)
  await page.keyboard.press('Enter')
  // Until its command is on its way the screen takes another act.
  await page.waitForTimeout(200)
}

/** Goes to a field by Tab and writes into it; what stood there goes. */
export async function write(page: Page, label: RegExp, text: string): Promise<void> {
  await tabTo(page, label)
  await page.keyboard.press('ControlOrMeta+a')
  await page.keyboard.type(text)
}

/** Goes to a list by Tab and picks by the letters an entry begins with. */
export async function pick(page: Page, label: RegExp, letters: string): Promise<void> {
  await tabTo(page, label)
  await page.keyboard.type(letters)
}

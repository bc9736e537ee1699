import type { Page } from '@playwright/test'
import { openPacks, readLabel, sayAllNumb } from './acts.ts'
import { expect, openLater, openPlan, test, touch } from './clinic.ts'

test.use({ story: 'isolation' })

/** A tablet held upright at the chair: a coarse pointer, for which a millimetre is 6.3 pixels of the page. */
const TABLET = { viewport: { width: 820, height: 1180 }, hasTouch: true, isMobile: true }
const MM = 6.3

const part = (page: Page, name: string | RegExp) => page.getByRole('region', { name })
const tooth = (page: Page, number: string) => page.getByRole('radio', { name: new RegExp(`^${number},`) })
/** The plan's number as its heading says it. */
const planNumber = async (page: Page): Promise<number> => {
  const title = await page.getByRole('heading', { name: /^Plan \d+(, a draft)?$/ }).textContent()
  return Number(/\d+/.exec(title ?? '')?.[0])
}

test('a mouth nobody has looked at: its plan is a draft until the teeth are counted, and follows the chart', async ({
  person,
}) => {
  const { page } = await person('Dr Ilan Feher')
  await openLater(page, 'J\\. Kilbride')

  await test.step('the dentist names the work: the plan counts on teeth nobody has charted', async () => {
    await touch(page, /^Name it/)
    await page.getByRole('textbox', { name: /^What is to be done/ }).fill('comp 16 MO')
    await touch(page, /^Take it/)
    await touch(page, /^It is/)
    await expect(page.getByText(/^The plan counts on teeth nobody has charted: 17 16/)).toBeVisible()
    await expect(page.getByRole('heading', { name: /, a draft$/ })).toBeVisible()
    await expect(tooth(page, '16')).toHaveAccessibleName(
      /taken as standing, not charted; the plan counts on it/,
    )
  })

  await test.step('all standing as drawn, in one touch, with who and when', async () => {
    await touch(page, 'All standing as drawn')
    await expect(page.getByRole('heading', { name: /^Plan \d+$/ })).toBeVisible()
    await page.getByText('Look at the mouth, or chart it').click()
    await expect(page.getByText(/^Teeth counted 24 Nov 2026 08:4\d, Dr Feher\.$/)).toBeVisible()
  })

  await test.step('17 is missing: the clamp moves with the chart', async () => {
    const number = await planNumber(page)
    await tooth(page, '17').click()
    await touch(page, 'missing')
    await expect(page.getByText(/^Charted as missing, 24 Nov 2026 08:4\d, Dr Feher\.$/)).toBeVisible()
    await expect(page.getByRole('definition').filter({ hasText: /^16 15 14/ })).toBeVisible()
    expect(await planNumber(page)).toBe(number + 1)
    await expect(tooth(page, '17')).toHaveAccessibleName('17, upper right second molar: missing')
  })

  await test.step('by keyboard: arrows along the row, Home and End to its ends, down to the other jaw', async () => {
    await tooth(page, '17').focus()
    await page.keyboard.press('ArrowRight')
    await expect(tooth(page, '16')).toBeFocused()
    await expect(tooth(page, '16')).toBeChecked()
    await page.keyboard.press('End')
    await expect(tooth(page, '28')).toBeFocused()
    await page.keyboard.press('Home')
    await expect(tooth(page, '18')).toBeFocused()
    await page.keyboard.press('ArrowDown')
    await expect(tooth(page, '48')).toBeFocused()
    await page.keyboard.press('ArrowRight')
    await page.keyboard.press('ArrowRight')
    await page.getByRole('button', { name: 'metal crown' }).focus()
    await page.keyboard.press('Enter')
    await expect(tooth(page, '46')).toHaveAccessibleName('46, lower right first molar: metal crown')
  })

  await test.step('the patient’s own page shows the same entries', async () => {
    await page.getByRole('link', { name: /All we hold of this patient’s mouth/ }).click()
    await expect(page.getByRole('heading', { level: 1 })).toContainText('Joan Kilbride')
    await tooth(page, '46').click()
    await expect(page.getByText(/^Charted as metal crown, 24 Nov 2026 08:4\d, Dr Feher\.$/)).toBeVisible()
  })
})

test('two policies on one mouth, side by side, and one is chosen', async ({ person }) => {
  const { page } = await person('Dr Maeve Corrigan')
  await openPlan(page, 'O\\. Lindahl')
  const number = await planNumber(page)
  const stands = part(page, /as it stands$/)
  const looked = part(page, '“one distal and two mesial”')

  await test.step('both fields, their holes and sources stand beside each other; nothing is chosen by looking', async () => {
    await page.getByLabel('Lay beside the plan').selectOption({ label: 'one distal and two mesial' })
    await expect(stands.getByText('47 46 45 44 43 42 41 31 32 33 · 10 holes')).toBeVisible()
    await expect(looked.getByText('47 46 45 44 · 4 holes')).toBeVisible()
    await expect(looked.getByRole('img')).toHaveCount(2)
    await looked.getByText('why', { exact: true }).click()
    await expect(looked.getByRole('code').or(looked.locator('code'))).toContainText(
      'one distal and two mesial',
    )
    expect(await planNumber(page)).toBe(number)
  })

  await test.step('chosen: a new plan', async () => {
    await touch(page, /^Choose this/)
    await expect(page.getByRole('heading', { name: `Plan ${number + 1}` })).toBeVisible()
    await expect(
      page
        .getByRole('region', { name: `Plan ${number + 1}`, exact: true })
        .getByText('47 46 45 44 · 4 holes'),
    ).toBeVisible()
  })

  await test.step('another tooth to clamp, and the way back', async () => {
    await page.getByText(/^Another tooth to clamp/).click()
    await touch(page, /^Clamp 46,/)
    await expect(page.getByRole('button', { name: /^Clamp 46,/ })).toHaveAttribute('aria-pressed', 'true')
    await touch(page, 'As the policy has it')
    await expect(page.getByRole('button', { name: /^Clamp 47,/ })).toHaveAttribute('aria-pressed', 'true')
    await touch(page, /^Back to the clinic’s own/)
    await expect(page.getByText('47 46 45 44 43 42 41 31 32 33 · 10 holes')).toBeVisible()
  })

  await test.step('a latex sheet is refused to one with a latex allergy, in words', async () => {
    await touch(page, 'latex')
    await expect(part(page, 'Choose otherwise').getByRole('alert')).toContainText(
      'Not done. Nothing was changed.',
    )
  })

  await test.step('the punch template is a page to print, to its own address', async () => {
    const link = page.getByRole('link', { name: 'Print the punch template, A4' })
    const answer = await page.request.get((await link.getAttribute('href')) ?? '')
    expect(answer.status()).toBe(200)
    expect(answer.headers()['content-type']).toBe('application/pdf')
    expect((await answer.body()).subarray(0, 5).toString()).toBe('%PDF-')
    const card = page.getByRole('link', { name: 'Print the tray card, A4' })
    const printed = await page.request.get((await card.getAttribute('href')) ?? '')
    expect([printed.status(), printed.headers()['content-type']]).toEqual([200, 'application/pdf'])
  })
})

test('the guide at the chair: one step at a time, and how it went is kept', async ({ person }) => {
  test.setTimeout(180_000)
  const { page } = await person('Dr Ilan Feher')
  const doStep = async (text: RegExp) => {
    await expect(page.getByRole('heading', { level: 2, name: text })).toBeVisible()
    await touch(page, /^Done/)
  }

  await test.step('all is made ready for the clamp but one place is still felt', async () => {
    await openPlan(page, 'G\\. Pryce')
    await touch(page, /^History of today confirmed/)
    await touch(page, /^My word on this plan/)
    await touch(page, '37, lower left second molar')
    await touch(page, 'Read back')
    await page.getByLabel('Solution').selectOption('lidocaine 2 %, epinephrine 1 : 100 000')
    await page.getByRole('combobox', { name: 'How', exact: true }).selectOption('infiltration')
    const assistant = await person('Bea Tornqvist')
    await openPlan(assistant.page, 'G\\. Pryce')
    await readLabel(assistant.page, page)
    await touch(page, /^Given now/)
    await expect(page.getByText('Next, from “injected”')).toBeVisible()
    await sayAllNumb(page)
    await assistant.page.goto(`${page.url()}/guide`)
    const missing = assistant.page.getByRole('region', { name: 'Still missing for the clamp' })
    await expect(missing).toContainText('The packs on the tray are not opened yet')
    await assistant.page.goto(page.url().replace('/appointments/', '/trays/'))
    await openPacks(assistant.page)
  })

  await test.step('the patient is told first; the teeth are counted with the same touch', async () => {
    await page.getByRole('link', { name: 'Open the guide at the chair' }).click()
    await doStep(/^Tell the patient: it will feel tight\. Raise a hand if it pinches\.$/)
    await doStep(/^Say the tooth aloud and count to it: 37/)
    await doStep(/^Mark 37/)
    await doStep(/^Floss every contact/)
  })

  await test.step('a reload loses no step', async () => {
    await page.reload()
    await expect(page.getByRole('heading', { level: 2, name: /^Punch/ })).toBeVisible()
  })

  await test.step('another screen at the chair follows, and each step keeps who did it and when', async () => {
    const beside = (await person('Bea Tornqvist', { ...TABLET, colorScheme: 'dark' })).page
    await beside.goto(page.url())
    await expect(beside.getByRole('heading', { level: 2, name: /^Punch/ })).toBeVisible()
    await touch(page, 'One step back')
    await expect(beside.getByRole('heading', { level: 2, name: /^Floss every contact/ })).toBeVisible()
    await touch(beside, /^Done/)
    await expect(page.getByRole('heading', { level: 2, name: /^Punch/ })).toBeVisible()
    await expect(page.getByRole('listitem').filter({ hasText: /^Floss every contact/ })).toContainText(
      /08:4\d, B\. Tornqvist/,
    )
  })

  await test.step('it pinches: the numbness check opens, and what was felt shuts the clamp', async () => {
    await touch(page, /^It pinches/)
    await expect(page.getByText(/more anaesthetic is theirs to give/).first()).toBeVisible()
    await touch(page, 'Gum at 37, cheek side: Felt')
    await expect(page.getByText(/Gum at 37, cheek side/).first()).toBeVisible()
    await doStep(/^Punch/)
    await doStep(/^Water-soluble lubricant/)
    await doStep(/^Double the floss/)
    await doStep(/^Try the clamp on 37/)
    await doStep(/^Clamp and sheet in one go to 37/)
    await expect(page.getByRole('main').getByRole('alert')).toContainText('Not done. Nothing was changed.')
    await expect(page.getByRole('heading', { level: 2, name: /^Clamp and sheet in one go/ })).toBeVisible()
    await touch(page, 'Gum at 37, cheek side: Numb')
    await touch(page, /^It no longer pinches/)
  })

  await test.step('the clamp goes on, then the frame, the right way up', async () => {
    await doStep(/^Clamp and sheet in one go to 37/)
    await doStep(/^Inner jaw first/)
    await doStep(/^No gum caught/)
    await doStep(/^Bow to the back/)
    await doStep(/^Does it pinch/)
    await expect(page.getByRole('img', { name: /open ends to the eyes, curve to the chin/ })).toBeVisible()
    await doStep(/^Frame over the sheet: curve to the chin, open ends to the eyes/)
    for (let left = 0; left < 12; left++) {
      if (await page.getByRole('heading', { name: /^All steps done/ }).isVisible()) break
      await touch(page, /^Done/)
    }
    await expect(page.getByRole('heading', { name: /^All steps done/ })).toBeVisible()
  })

  await test.step('how it went is said by touch and kept', async () => {
    await expect(page.getByLabel('How the sheet on 37 36 35 went on')).toHaveValue('together')
    await expect(page.getByRole('button', { name: /^Record as placed/ })).toBeDisabled()
    await touch(page, 'Tried again, times: one more')
    await touch(page, 'Tried again, times: one more')
    await touch(page, 'Gum marked')
    await touch(page, /^Record as placed/)
    await expect(part(page, 'How it went').getByRole('alert')).toContainText('Not done. Nothing was changed.')
    await touch(page, /^Clamp looked at/)
    await touch(page, /^Record as placed/)
    await expect(page.getByRole('heading', { level: 2, name: /cut every septum/ })).toBeVisible()
  })

  await test.step('taken off: septa, clamp, sheet and gum in order, then all is counted out', async () => {
    await doStep(/cut every septum/)
    for (let left = 0; left < 8; left++) {
      if (await page.getByRole('heading', { name: 'Count what came out' }).isVisible()) break
      await touch(page, /^Done/)
    }
    const counted = {
      Holes: 3,
      Septa: 2,
      'Clamps out': 1,
      'Ligatures that': 1,
      'Ligatures out': 1,
      Pieces: 1,
      Needles: 1,
      Files: 0,
      Blades: 0,
    }
    for (const [what, count] of Object.entries(counted)) {
      const more = page.getByRole('button', { name: new RegExp(`^${what}.*: one more$`) })
      for (let touched = 0; touched <= count; touched++) await more.click()
    }
    await touch(page, 'Sheet laid flat: no piece missing')
    await touch(page, 'Gum marked')
    await touch(page, /^Counted/)
    await expect(page.getByText(/^✓ Counted out by Dr Feher\.$/)).toBeVisible()
  })

  await test.step('the gum’s state stands with the mouth: a plan that clamps there tells it', async () => {
    await page.getByRole('link', { name: 'Back to the plan' }).click()
    await expect(page.getByText(/^The gum at 37 was marked under a clamp on 2026-11-24/)).toBeVisible()
    await page.getByRole('link', { name: 'Open the guide at the chair' }).click()
  })

  await test.step('it stands on the patient’s page', async () => {
    await page.getByRole('link', { name: 'Back to the plan' }).click()
    await page.getByText('Look at the mouth, or chart it').click()
    await page.getByRole('link', { name: /All we hold of this patient’s mouth/ }).click()
    await tooth(page, '37').click()
    await expect(page.getByText('A clamp sat here 24 Nov 2026: gum marked, Dr Feher.')).toBeVisible()
    await expect(part(page, 'Sheets worn here')).toContainText(
      /24 Nov 2026: 37 36 35, clamp on 37, gum marked, \d+ min, tried again 1 ×/,
    )
  })
})

test('for gloves: every tooth and every step is large enough on a tablet', async ({ person }) => {
  const { page } = await person('Dr Maeve Corrigan', TABLET)
  await openLater(page, 'H\\. Strand')
  const summary = page.getByText(/^(Look at the mouth|The plan counts on teeth)/)
  if (!(await page.getByRole('radiogroup').isVisible())) await summary.click()
  for (const one of await page.getByRole('radio').all()) {
    const box = await one.boundingBox()
    expect(box?.width, (await one.getAttribute('aria-label')) ?? '').toBeGreaterThanOrEqual(9 * MM - 1)
  }
  const box = await page.getByRole('button', { name: 'missing' }).boundingBox()
  expect(box?.height).toBeGreaterThanOrEqual(15 * MM - 1)
  await page.getByRole('link', { name: 'Open the guide at the chair' }).click()
  const done = await page.getByRole('button', { name: /^Done/ }).boundingBox()
  expect(done?.height).toBeGreaterThanOrEqual(20 * MM - 1)
})

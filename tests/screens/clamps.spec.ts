import type { Page } from '@playwright/test'
import { expect, openPlan, test, touch } from './clinic.ts'

test.use({ story: 'clamps' })

const part = (page: Page, name: string | RegExp) => page.getByRole('region', { name })

async function openSettings(page: Page, which: string): Promise<void> {
  await page.getByRole('navigation', { name: 'Screens' }).getByRole('link', { name: 'Settings' }).click()
  await page.getByRole('navigation', { name: 'Settings' }).getByRole('link', { name: which }).click()
  await expect(page.getByRole('heading', { level: 2 }).first()).toBeVisible()
}

test('the clinic’s own clamps: listed by form and mark, looked at, ranked on a plan', async ({ person }) => {
  const manager = await person('Ingrid Vasarely')
  const dentist = await person('Dr Maeve Corrigan')
  const clamps = part(manager.page, 'Our own clamps')

  await test.step('a plan names the best of them for its tooth, and says why', async () => {
    await openPlan(dentist.page, 'O\\. Lindahl')
    await expect(dentist.page.getByText(/^Of our own: Reed \(this form\), then Rush/)).toBeVisible()
  })

  await test.step('one more is added as it is engraved; a mark is listed once', async () => {
    await openSettings(manager.page, 'Clamps and punch')
    await manager.page.getByLabel('As it is engraved').fill('Reed')
    await expect(manager.page.getByText('This mark is listed already: count it there.')).toBeVisible()
    await expect(manager.page.getByRole('button', { name: 'Add the clamp' })).toBeDisabled()
    await manager.page.getByLabel('As it is engraved').fill('Fern')
    await manager.page.getByLabel('Made for').selectOption({ label: 'lower jaw' })
    await touch(manager.page, 'Add the clamp')
    await touch(manager.page, 'Take Reed off the list')
    await touch(manager.page, /^Keep this list/)
    await expect(manager.page.getByRole('button', { name: /^Keep this list/ })).toBeDisabled()
    await expect(clamps.getByText('Fern', { exact: true })).toBeVisible()
  })

  await test.step('the plan that stands open ranks it at once', async () => {
    await expect(dentist.page.getByText(/^Of our own: Fern \(this form\), then Rush/)).toBeVisible()
  })

  await test.step('looked at: the day stands on it', async () => {
    await touch(manager.page, 'Fern looked at: no rust, crack or bend')
    await expect(
      clamps.getByRole('button', { name: 'Fern looked at: no rust, crack or bend' }),
    ).toContainText('24 Nov 2026')
  })

  await test.step('none of this form left, none that stands in: the plan says so to who keeps the shelf', async () => {
    const assistant = await person('Bea Tornqvist')
    await openPlan(assistant.page, 'O\\. Lindahl')
    for (const mark of ['Fern', 'Rush']) await touch(manager.page, `Take ${mark} off the list`)
    await touch(manager.page, /^Keep this list/)
    await expect(assistant.page.getByText(/^No clamp of our own fits 47/)).toBeVisible()
    await expect(dentist.page.getByText(/^Of our own/)).toHaveCount(0)
    await expect(dentist.page.getByText(/^No clamp of our own fits 47/)).toHaveCount(0)
  })
})

test('the clinic’s own punch: a size outside the standard is asked for once more', async ({ person }) => {
  const { page } = await person('Ingrid Vasarely')
  await openSettings(page, 'Clamps and punch')
  const punch = part(page, 'Our punch')
  await punch.getByLabel('Size 6, mm').fill('3')
  await expect(punch.getByText('outside the standard', { exact: true })).toBeVisible()
  await touch(page, /^Keep the punch/)
  await expect(punch.getByRole('alert')).toContainText('A hole of 3 mm lies outside 0.5 to 2.6 mm')
  await touch(page, /^Measured again: it is so/)
  await touch(page, /^Keep the punch/)
  await expect(page.getByRole('button', { name: /^Keep the punch/ })).toBeDisabled()
  await page.reload()
  await expect(punch.getByLabel('Size 6, mm')).toHaveValue('3')
})

test('a dentist’s own field stands beside the clinic’s, each with its source, and their plans follow', async ({
  person,
}) => {
  const manager = await person('Ingrid Vasarely')
  const dentist = await person('Dr Maeve Corrigan')
  await openPlan(dentist.page, 'O\\. Lindahl')
  await expect(dentist.page.getByText('47 46 45 44 43 42 41 31 32 33 · 10 holes')).toBeVisible()
  await openSettings(manager.page, 'Fields by dentist')
  const row = manager.page.getByRole('row', { name: /^Back filling with a side/ })
  await expect(row).toContainText('second molar to the opposite canine')
  await expect(row).toContainText('posterior absolute-isolation teaching article 2020')
  await manager.page.getByLabel(/^Dentist/).selectOption({ label: 'Dr Maeve Corrigan' })
  await manager.page
    .getByLabel('Back filling with a side, own field')
    .selectOption({ label: 'one distal and two mesial' })
  await expect(row).toContainText('assisting licensing question sets')
  await touch(manager.page, /^Keep the fields of Dr Corrigan/)
  await expect(dentist.page.getByText('47 46 45 44 · 4 holes')).toBeVisible()
  await manager.page
    .getByLabel('Back filling with a side, own field')
    .selectOption({ label: 'as the clinic' })
  await touch(manager.page, /^Keep the fields of Dr Corrigan/)
  await expect(dentist.page.getByText('47 46 45 44 43 42 41 31 32 33 · 10 holes')).toBeVisible()
})

test('how far apart holes are: the clinic’s pick and limits say how they are measured, and plans follow', async ({
  person,
}) => {
  const manager = await person('Ingrid Vasarely')
  const dentist = await person('Dr Maeve Corrigan')
  await openPlan(dentist.page, 'O\\. Lindahl')
  await openSettings(manager.page, 'Policies')
  const near = manager.page.getByRole('group', { name: 'Too near, it leaks: under' })
  await near
    .getByLabel('Too near, it leaks: under, measured')
    .selectOption({ label: 'from centre to centre' })
  for (let step = 0; step < 10; step++) {
    await near.getByRole('button', { name: 'Too near, it leaks: under: half a millimetre more' }).click()
  }
  await expect(near.getByRole('status')).toHaveText('7 mm')
  await touch(manager.page, /^Keep these policies/)
  await expect(dentist.page.getByRole('heading', { name: /, a draft$/ })).toBeVisible()
  await expect(
    dentist.page.getByText(/are only 5\.\d mm apart from centre to centre: too narrow/).first(),
  ).toBeVisible()
  await near.getByLabel('Too near, it leaks: under, measured').selectOption({
    label: 'from edge to edge, rubber alone',
  })
  for (let step = 0; step < 10; step++) {
    await near.getByRole('button', { name: 'Too near, it leaks: under: half a millimetre less' }).click()
  }
  await touch(manager.page, /^Keep these policies/)
  await expect(dentist.page.getByRole('heading', { name: /^Plan \d+$/ })).toBeVisible()
})

test('one crown, or a row of them, measured: the sheet is drawn to this mouth', async ({ person }) => {
  const { page } = await person('Dr Maeve Corrigan')
  await openPlan(page, 'O\\. Lindahl')
  await page.getByText('Look at the mouth, or chart it').click()
  await page.getByRole('radio', { name: /^46,/ }).click()
  await page.getByText(/^Sheets are drawn to the table of crown widths/).click()
  const less = page.getByRole('button', { name: 'Half a millimetre less' })
  const more = page.getByRole('button', { name: 'Half a millimetre more' })

  await test.step('a crown by touch, from the table’s own figure', async () => {
    await expect(page.getByRole('button', { name: /^46 measures 11 mm/ })).toBeVisible()
    await more.click()
    await more.click()
    await touch(page, /^46 measures 12 mm/)
    await expect(
      page.getByText(/^Sheets are scaled by 46, measured 12 mm, 24 Nov 2026 08:4\d, Dr Corrigan$/),
    ).toBeVisible()
  })

  await test.step('a slip of the hand is refused in words', async () => {
    for (let step = 0; step < 9; step++) await less.click()
    await touch(page, /^46 measures 7\.5 mm/)
    await expect(page.getByRole('main').getByRole('alert').first()).toContainText(
      '46 measured 7.5 mm; the table gives 11 mm',
    )
  })

  await test.step('a row along the arch, and back to the table', async () => {
    await page
      .getByLabel('Measured along the arch, outer contact to outer contact')
      .selectOption({ label: '46 to 44' })
    await touch(page, /^46 to 44 measures 25 mm/)
    await expect(page.getByText(/^Sheets are scaled by 46 to 44, measured 25 mm/)).toBeVisible()
    await touch(page, 'Draw by the table again')
    await expect(page.getByText(/^Sheets are drawn to the table of crown widths/)).toBeVisible()
  })
})

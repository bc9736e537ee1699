import { expect, goTo, test, touch } from './clinic.ts'

test.use({ story: 'away' })

const WITHIN = { timeout: 2_000 }
const TAKEN_OVER = ['C. Voss', 'A. Lund', 'R. Moss', 'L. Fischer', 'A. Doyle']

test('case 78 a dentist is away: one act hands five visits over, the desk calls, the new dentist reads first', async ({
  person,
}) => {
  test.setTimeout(180_000)
  const { page } = await person('Noor Kallas')
  const other = await person('Tomas Whelan')
  const dentist = await person('Prof. Aldo Brandt')
  await goTo(other.page, 'Day')

  await test.step('who is away, since when, and who takes each visit over', async () => {
    await goTo(page, 'Day')
    await page.getByRole('link', { name: 'Who works when' }).click()
    await touch(page, 'Dr Corrigan is away today')
    const dialog = page.getByRole('dialog', { name: 'Dr Corrigan is away today' })
    await dialog.getByLabel('Away from').fill('13:39')
    await expect(dialog.getByRole('group', { name: 'Their visits in that time: 6' })).toBeVisible()
    // A visit that has ended when they leave is none of them.
    await dialog.getByLabel('Away from').fill('13:40')
    await expect(dialog.getByRole('group', { name: 'Their visits in that time: 5' })).toBeVisible()
    await expect(dialog.getByText('0 visits change hands, 5 asked of the desk')).toBeVisible()
    await dialog.getByLabel('All of them').selectOption({ label: 'to Prof. Brandt' })
    await dialog.getByRole('button', { name: /5 visits change hands/ }).click()
    await expect(dialog).toBeHidden()
    const row = page.getByRole('listitem', { name: 'Dr Corrigan' })
    await expect(row).toContainText('Away 13:40–23:59 said by N. Kallas')
    await expect(row).toContainText('07:00–18:00')
  })

  await test.step('whoever’s dentist changed stands on the desk’s list, on every desk, until told', async () => {
    const calls = other.page.getByRole('region', { name: 'Courtesy calls to make: 5' })
    for (const name of TAKEN_OVER) await expect(calls).toContainText(name)
    await expect(calls).toContainText('Prof. Brandt instead of Dr Corrigan')
    await expect(calls).not.toContainText(/latex|allerg|clamp|crown/i)
    await goTo(page, 'Day')
    await touch(page, 'Told: A. Lund')
    const left = other.page.getByRole('region', { name: 'Courtesy calls to make: 4' })
    await expect(left.getByRole('listitem').filter({ hasText: 'A. Lund' })).toContainText(
      /told 08:4\d by N\. Kallas/,
      WITHIN,
    )
  })

  await test.step('the new dentist’s board begins with what must be known of each', async () => {
    const mine = dentist.page.getByRole('region', { name: 'Taken over by you: 5' })
    await expect(mine.getByText('The plan needs Prof. Brandt’s confirmation.').first()).toBeVisible()
    const visit = mine.getByRole('listitem').filter({ hasText: 'R. Moss' })
    await expect(visit).toContainText('Latex: asked, the patient does not know.')
    await mine.getByRole('link', { name: /A\. Lund/ }).click()
  })

  await test.step('and so does the plan page, before anything else is said', async () => {
    const first = dentist.page.getByRole('main').getByRole('region').first()
    await expect(first).toHaveAccessibleName('Taken over from Dr Corrigan')
    await expect(first).toContainText('Dr Corrigan is away; changed 08:4')
    await expect(first).toContainText('The plan needs Prof. Brandt’s confirmation.')
    for (const term of ['Allergies', 'Clamps before', 'Open notes']) {
      await expect(first.getByRole('term').filter({ hasText: term })).toBeVisible()
    }
  })

  await test.step('back after all: the mark goes, what was handed over stays with its new dentist', async () => {
    await page.getByRole('link', { name: 'Who works when' }).click()
    await touch(page, 'Hours of Dr Corrigan')
    const dialog = page.getByRole('dialog', { name: 'Dr Corrigan: hours today' })
    await dialog.getByLabel('Break 1 from').fill('12:00')
    await dialog.getByLabel('Break 1 to').fill('12:30')
    await dialog.getByLabel('Away from').fill('')
    await dialog.getByLabel('Away to').fill('')
    await dialog.getByRole('button', { name: 'Keep these hours' }).click()
    const row = page.getByRole('listitem', { name: 'Dr Corrigan' })
    await expect(row).toContainText('07:00–12:00, 12:30–18:00')
    await expect(row).not.toContainText('Away')
  })
})

test('case 78 a visit that nobody takes over is asked of the desk, on its own row', async ({ person }) => {
  const { page } = await person('Noor Kallas')
  await goTo(page, 'Day')
  await page.getByRole('link', { name: 'Who works when' }).click()
  await touch(page, 'Dr Nambiar is away today')
  const dialog = page.getByRole('dialog', { name: 'Dr Nambiar is away today' })
  await dialog.getByLabel('Away from').fill('16:30')
  await dialog.getByLabel(/^16:00 E\. Hartog/).selectOption({ label: 'to nobody yet' })
  await dialog.getByRole('button', { name: /1 visit changes hands, 1 asked of the desk/ }).click()
  await expect(dialog).toBeHidden()
  await goTo(page, 'Day')
  const rows = page.getByRole('main').getByRole('listitem')
  await expect(rows.filter({ hasText: 'A. Wren' })).toContainText(
    'The dentist is away: hand the visit over to another dentist, move it or cancel it.',
  )
  await expect(rows.filter({ hasText: 'E. Hartog' })).toContainText('name a dentist')
})

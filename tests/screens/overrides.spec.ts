import { expect, openPlan, test, touch } from './clinic.ts'
import { bookLate } from './desk.ts'

test.use({ story: 'overrides' })

test('[numbness/felt] the booked dentist passes over a question with a reason, which is kept and counted', async ({
  person,
}) => {
  const dentist = await person('Dr Ilan Feher')
  const assistant = await person('Bea Tornqvist')
  await openPlan(dentist.page, 'G\\. Pryce')
  await openPlan(assistant.page, 'G\\. Pryce')
  await touch(assistant.page, /^Tooth 37, cold: Felt$/)
  const felt = dentist.page.getByText('Felt at tooth 37. Stop and re-assess.').first()
  await expect(felt).toBeVisible()

  await test.step('only the dentist may, and not without a reason', async () => {
    await expect(assistant.page.getByText('Pass over it, with a reason')).toHaveCount(0)
    await dentist.page.getByText('Pass over it, with a reason').click()
    await expect(dentist.page.getByRole('button', { name: 'Pass over it' })).toBeDisabled()
    await dentist.page.getByLabel('The reason, which is kept').fill('a pulp long dead; told to raise a hand')
    await dentist.page.getByRole('button', { name: 'Pass over it' }).click()
    await expect(felt).toHaveCount(0)
    await expect(assistant.page.getByText('Felt at tooth 37. Stop and re-assess.')).toHaveCount(0)
  })

  await test.step('it stands in the story of the appointment and in the counts', async () => {
    await dentist.page.getByText('Who did what, and when').click()
    await expect(dentist.page.getByRole('region', { name: 'The story so far' })).toContainText('Feher')
    const manager = await person('Ingrid Vasarely')
    await manager.page.goto('/settings/overrides')
    await expect(manager.page.getByRole('region', { name: 'Overrides by week and rule' })).toContainText(
      'numbness/felt',
    )
    await expect(
      manager.page.getByRole('region', { name: 'Never passed over' }).getByRole('listitem'),
    ).toHaveCount(7)
  })
})

test('[tooth/words-contradict] none of the stops is passed over, and the page says why', async ({
  person,
}) => {
  const { page } = await person('Dr Ilan Feher')
  await openPlan(page, 'M\\. Kovar')
  await expect(page.getByText('Number and words do not agree').first()).toBeVisible()
  await expect(page.getByText('Pass over it, with a reason')).toHaveCount(0)
})

test('a rule passed over more than half the time in a week is named, with how often; at half it is not', async ({
  person,
  clinic,
}) => {
  const work = 'extraction 36, IV sedation'
  const passed = await bookLate(clinic.address, { work, family: 'Sandvig' })
  const watched = await bookLate(clinic.address, { work, family: 'Tveit' })
  const manager = await person('Ingrid Vasarely')
  const named = manager.page
    .getByRole('region', { name: 'Passed over more than half the time' })
    .getByRole('listitem')
    .filter({ hasText: 'sedation/no-monitor' })

  await test.step('passed over on the only appointment of the week: named', async () => {
    const { page } = await person('Dr Ilan Feher')
    await page.goto(`/appointments/${passed}`)
    const asked = page.getByRole('listitem').filter({ hasText: 'nobody is named to watch the patient' })
    await asked.getByText('Pass over it, with a reason').click()
    await asked.getByLabel('The reason, which is kept').fill('the sedation was called off by telephone')
    await touch(page, 'Pass over it')
    await expect(asked).toHaveCount(0)
    await manager.page.goto('/settings/overrides')
    await expect(named).toContainText('passed over on 1 of 1 appointments')
  })

  await test.step('answered on another: half the time is not more than half', async () => {
    const { page } = await person('Bea Tornqvist')
    await page.goto(`/appointments/${watched}`)
    await touch(page, 'H. Saleh')
    await expect(page.getByText(/H\. Saleh watches the patient and nothing else/)).toBeVisible()
    await manager.page.reload()
    await expect(manager.page.getByRole('region', { name: 'Overrides by week and rule' })).toContainText(
      'sedation/no-monitor',
    )
    await expect(named).toHaveCount(0)
  })
})

import { ROOM_TASK_WORDS } from '#app/_ui/labels.ts'
import {
  chooseFile,
  openImport,
  openPacks,
  preview,
  readIn,
  readLabel,
  sayAllNumb,
  tickAllLines,
} from './acts.ts'
import { expect, goTo, openPlan, test, touch } from './clinic.ts'

test.use({ story: 'day' })
/** A change on one screen is on every other within a second. */
const WITHIN = { timeout: 1_000 }

test('an appointment from the list to the last step: three roles at four screens', async ({ person }) => {
  test.setTimeout(240_000)
  const desk = await person('Noor Kallas')
  const assistant = await person('Bea Tornqvist')
  const second = await person('Hamid Saleh')
  const dentist = await person('Prof. Aldo Brandt')

  await test.step('the desk reads in the list', async () => {
    await openImport(desk.page)
    await chooseFile(desk.page, 'one-more.csv', 'day list')
    const would = await preview(desk.page)
    await expect(would.getByRole('listitem').filter({ hasText: /\bnew$/ })).toHaveText('1 new')
    await readIn(desk.page)
  })

  await test.step('it stands on the boards that were open, without their being touched', async () => {
    await expect(assistant.page.getByRole('link', { name: /D\. Morrow/ })).toBeVisible(WITHIN)
    await expect(dentist.page.getByRole('link', { name: /D\. Morrow/ })).toBeVisible(WITHIN)
  })

  await test.step('one assistant claims the tray, the other is told who has it and since when', async () => {
    const row = (page: typeof desk.page) =>
      page.getByRole('listitem').filter({ hasText: 'Operatory 10 · 08:45' })
    await goTo(assistant.page, 'Trays')
    await second.page.route('**/api/changes*', (route) => route.abort())
    await goTo(second.page, 'Trays')
    await expect(row(second.page).getByRole('button', { name: 'Claim' })).toBeVisible()
    // Both see it free: the second touches it before the first one's claim has reached that screen.
    await row(assistant.page).getByRole('button', { name: 'Claim' }).click()
    await expect(row(assistant.page).getByText(/claimed by B\. Tornqvist since 08:4\d/)).toBeVisible()
    await row(second.page).getByRole('button', { name: 'Claim' }).click()
    await expect(second.page.getByRole('main').getByRole('alert')).toContainText(/B\. Tornqvist.*08:4\d/)
    await second.page.unroute('**/api/changes*')
    await expect(row(second.page).getByText(/claimed by B\. Tornqvist since 08:4\d/)).toBeVisible()
  })

  await test.step('the tray is laid out, and checked by someone else', async () => {
    await assistant.page.getByRole('link', { name: /Operatory 10 · 08:45/ }).click()
    await tickAllLines(assistant.page)
    await touch(assistant.page, /^Laid out/)
    await second.page.getByRole('link', { name: /Operatory 10 · 08:45/ }).click()
    await touch(second.page, /^Checked/)
    await expect(assistant.page.getByText(/^checked · 23 of 23$/)).toBeVisible(WITHIN)
  })

  await test.step('the room is turned over and the patient seated', async () => {
    await openPlan(assistant.page, 'D\\. Morrow')
    for (const task of Object.values(ROOM_TASK_WORDS)) await touch(assistant.page, task)
    await goTo(desk.page, 'Day')
    const row = desk.page.getByRole('listitem').filter({ hasText: 'D. Morrow' })
    await row.getByRole('button', { name: 'Arrived' }).click()
    await touch(assistant.page, '13 Mar 1988')
    await touch(assistant.page, /^Seated/)
    await expect(assistant.page.getByText('Next, from “seated”')).toBeVisible()
    await touch(assistant.page, 'Latex: none known')
    await touch(assistant.page, 'Other allergies: none known')
    await touch(assistant.page, /^History of today confirmed/)
    await touch(assistant.page, /^Teeth counted: all stand as drawn/)
  })

  const word = (page: typeof desk.page) => page.getByRole('region', { name: 'The dentist’s word' })
  await test.step('the dentist gives their word on the plan', async () => {
    await openPlan(dentist.page, 'D\\. Morrow')
    await touch(dentist.page, /^My word on this plan/)
    await expect(word(assistant.page)).toContainText('Prof. Brandt gave their word on plan', WITHIN)
  })

  await test.step('the tooth is changed: the word lapses on both screens within a second', async () => {
    await dentist.page.getByRole('button', { name: /^Change: / }).click()
    const naming = dentist.page.getByRole('dialog')
    await naming.getByRole('button', { name: '46, lower right first molar' }).click()
    await naming.getByRole('button', { name: '45, lower right second premolar' }).click()
    await naming.getByRole('button', { name: /^It is .* 45/ }).click()
    await Promise.all([
      expect(word(dentist.page)).toContainText('Lapsed: the plan changed.', WITHIN),
      expect(word(assistant.page)).toContainText('Lapsed: the plan changed.', WITHIN),
    ])
    await expect(assistant.page.getByRole('heading', { level: 1 })).toHaveText('lower right second premolar')
  })

  await test.step('no needle without a live word', async () => {
    await touch(dentist.page, '45, lower right second premolar')
    await touch(dentist.page, 'Read back')
    await dentist.page.getByLabel('Solution').selectOption('lidocaine 2 %, epinephrine 1 : 100 000')
    await dentist.page
      .getByRole('group', { name: 'What is drawn up' })
      .getByLabel('How')
      .selectOption('infiltration')
    await expect(dentist.page.getByRole('region', { name: 'Before “Given now”' })).toContainText(
      'The dentist’s word has lapsed',
    )
    await expect(dentist.page.getByRole('button', { name: /^Given now/ })).toHaveCount(0)
  })

  await test.step('the word is given again, and the dose', async () => {
    await touch(dentist.page, /^My word on this plan/)
    await expect(word(assistant.page)).toContainText('Prof. Brandt gave their word on plan', WITHIN)
    await readLabel(assistant.page, dentist.page)
    await touch(dentist.page, /^Given now/)
    await expect.poll(() => dentist.page.getByRole('main').getByRole('alert').allInnerTexts()).toEqual([])
    await expect(assistant.page.getByText('Next, from “injected”')).toBeVisible(WITHIN)
  })

  await test.step('numb at every place, counted, tied, clamped', async () => {
    await sayAllNumb(assistant.page)
    await touch(assistant.page, 'Teeth counted before the dam')
    const before = assistant.page.getByRole('region', { name: 'Before “Clamp on”' })
    await expect(before).toContainText('The packs on the tray are not opened yet')
    await openPacks(second.page)
    await expect(before).toHaveCount(0)
    await expect(assistant.page.getByRole('button', { name: /^Clamp on/ })).toBeDisabled()
    await touch(assistant.page, /^Clamp tied/)
    await touch(assistant.page, 'Clamp on')
    await expect(dentist.page.getByText('Next, from “dam on”')).toBeVisible(WITHIN)
  })

  await test.step('the dam is recorded, the time-out held, the work started and finished', async () => {
    for (const look of ['Tied through both holes', 'No rust, crack or bend', 'Bow to the back']) {
      await touch(dentist.page, look)
    }
    await touch(dentist.page, /^Placed as planned/)
    await touch(dentist.page, 'Teeth counted through the dam')
    await touch(dentist.page, '45, lower right second premolar')
    await touch(dentist.page, 'Time-out held')
    await touch(dentist.page, 'Started')
    await expect(assistant.page.getByText('Next, from “under way”')).toBeVisible(WITHIN)
    await touch(dentist.page, /^Finished/)
    await expect(assistant.page.getByText('Next, from “finished”')).toBeVisible(WITHIN)
  })
})

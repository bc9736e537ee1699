import { expect, type Person, test } from './clinic.ts'
import { bookLate, signInAs } from './desk.ts'
import { act, write } from './keys.ts'

test.use({ story: 'asked-first' })
test.setTimeout(180_000)

const idOf = ({ page }: Person): string => page.url().split('/').at(-1) ?? ''
async function openBy(person: Person, patient: RegExp): Promise<void> {
  await person.page.goto('/board')
  await act(person.page, patient)
  await expect(person.page.getByRole('button', { name: 'Stop, check side' })).toBeVisible()
}

test('a normal morning: sixty appointments, nothing interrupts, at most two of ten lanes are coloured', async ({
  person,
  clinic,
}) => {
  const assistant = await person('Bea Tornqvist')
  const { page } = assistant
  await page.goto('/board')
  const lanes = page.getByRole('listitem').filter({ has: page.getByRole('heading', { level: 2 }) })
  await expect(lanes).toHaveCount(10)
  const states = await lanes.evaluateAll((all) => all.map((lane) => lane.getAttribute('data-state')))
  expect(states.filter((state) => state === 'ask' || state === 'hold').length).toBeLessThanOrEqual(2)
  await expect(page.getByRole('dialog')).toHaveCount(0)
  await expect(page.getByRole('alertdialog')).toHaveCount(0)
  await expect(page.getByRole('main').getByRole('alert')).toHaveCount(0)
  const asked = await signInAs(clinic.address, 'Bea Tornqvist')
  const [{ site, today }] = (await asked.query('me')).body.result.data.sites
  const { body } = await asked.query('board.day', { siteId: site.id, day: today })
  expect(body.result.data.world.appointment).toHaveLength(60)
})

test('[guardian/not-recorded] the desk records who came with a child, by touch, and is told nothing clinical', async ({
  person,
}) => {
  const desk = await person('Noor Kallas')
  const { page } = desk
  await page.goto('/day')
  const row = page.getByRole('listitem').filter({ hasText: 'A. Fallon' })
  await row.getByRole('button', { name: 'Arrived' }).click()
  await act(page, /^Who came with them: A\. Fallon/)
  await expect(page.getByRole('dialog')).toContainText('Record who came with the patient')
  await act(page, /^As expected: they are here/)
  await expect(page.getByRole('dialog')).toHaveCount(0)
  await expect(row).not.toContainText('Record who came')
})

test('[line/for-dentist] the clinic’s own line: set by the manager, measured by the assistant, settled by the dentist', async ({
  person,
}) => {
  const manager = await person('Ingrid Vasarely')
  await manager.page.goto('/settings/lines')
  await manager.page
    .getByRole('region', { name: 'Blood pressure' })
    .getByRole('button', { name: /^Ask it here/ })
    .click()
  await manager.page.getByLabel('Blood pressure is asked of').selectOption('everyone')
  await write(manager.page, /^Blood pressure: our line/, 'the dentist is asked from 160/100')
  await act(manager.page, /^Keep these lines/)
  await expect(manager.page.getByText('as they stand')).toBeVisible()

  const assistant = await person('Bea Tornqvist')
  await openBy(assistant, /G\. Pryce/)
  const line = assistant.page.getByRole('region', { name: 'Blood pressure' })
  await expect(line).toContainText('the dentist is asked from 160/100')
  await write(assistant.page, /^As measured or told/, '165/95')
  await act(assistant.page, /^Ask the dentist$/)
  await expect(line).toContainText('165/95: the dentist is asked')

  const dentist = await person('Dr Ilan Feher')
  await openBy(dentist, /G\. Pryce/)
  await expect(dentist.page.getByRole('region', { name: 'Before “Given now”' })).toContainText(
    'Blood pressure: 165/95',
  )
  await act(dentist.page, /^I have seen it, and go on/)
  await expect(dentist.page.getByRole('region', { name: 'Blood pressure' })).toContainText(
    'the dentist goes on',
  )
})

test('[latex/suspected] a reaction seen is suspected on every screen at once, and only a clinician clears it', async ({
  person,
}) => {
  const assistant = await person('Bea Tornqvist')
  await openBy(assistant, /G\. Pryce/)
  await act(assistant.page, /^A reaction was seen or told of/)
  await write(assistant.page, /^What was seen, in words/, 'itchy lips under rubber dam')
  await act(assistant.page, /^Keep it$/)
  await expect(assistant.page.getByText(/Latex: suspected\. Asked/)).toBeVisible()
  await expect(assistant.page.getByText('Clear an allergy')).toHaveCount(0)
  const dentist = await person('Dr Ilan Feher')
  await openBy(dentist, /G\. Pryce/)
  await expect(dentist.page.getByText(/Latex: suspected\. Asked/)).toBeVisible()
  await act(dentist.page, /^Clear an allergy/)
  await write(dentist.page, /^Why, which is kept/, 'tested negative')
  await act(dentist.page, /^Clear: natural rubber latex/)
  await expect(dentist.page.getByText(/Latex: none known\. Asked/)).toBeVisible()
})

test('[work/who-first] mouth and plan differ: who before what, and the tooth is not edited before', async ({
  person,
  clinic,
}) => {
  const dentist = await person('Dr Maeve Corrigan')
  await openBy(dentist, /E\. Brannigan/)
  const { page } = dentist
  const before = (await page.getByRole('heading', { level: 1 }).textContent()) ?? ''
  await act(page, /^Change: /)
  const dialog = page.getByRole('dialog')
  await expect(dialog).toContainText('First who, then what')
  await expect(dialog.getByLabel(/^What is to be done/)).toHaveCount(0)
  const asked = await signInAs(clinic.address, 'Dr Maeve Corrigan')
  const { world } = (await asked.query('appointments.window', { appointmentId: idOf(dentist) })).body.result
    .data
  const [work] = world.work
  const named = await asked.perform('work.name', {
    appointmentId: idOf(dentist),
    workId: work.id,
    kind: work.kind,
    teeth: ['11'],
  })
  expect(named.body.result.data).toMatchObject({ refused: true, findings: [{ rule: 'work/who-first' }] })
  await expect(page.getByRole('heading', { level: 1 })).toHaveText(before)
})

test('[sedation/no-monitor] a clock watches nobody: a person is named who does not treat', async ({
  person,
  clinic,
}) => {
  const id = await bookLate(clinic.address, { work: 'extraction 36, IV sedation', family: 'Sandvig' })
  const assistant = await person('Bea Tornqvist')
  const { page } = assistant
  await page.goto(`/appointments/${id}`)
  await expect(page.getByRole('heading', { name: 'Sedation: who watches the patient?' })).toBeVisible()
  await expect(page.getByRole('button', { name: 'Dr Feher', exact: true })).toHaveCount(0)
  await act(page, /^H\. Saleh$/)
  await expect(page.getByText(/H\. Saleh watches the patient and nothing else/)).toBeVisible()
  await expect(page.getByText('nobody is named to watch')).toHaveCount(0)
})

test('[interpreter/not-booked] the desk is given the task, and records who was booked by touch and one line', async ({
  person,
  clinic,
}) => {
  await bookLate(clinic.address, { work: 'check-up', family: 'Zawada', interpreter: 'Polish' })
  const desk = await person('Noor Kallas')
  const { page } = desk
  await page.goto('/day')
  const row = page.getByRole('listitem').filter({ hasText: 'O. Zawada' })
  // No operatory and no interpreter: both are the desk’s, one after the other.
  await row.getByRole('button', { name: 'Change' }).click()
  await page.getByLabel('Operatory').selectOption({ index: 1 })
  await page.getByRole('dialog').getByRole('button', { name: 'Change' }).click()
  await act(page, /^Interpreter booked: O\. Zawada/)
  await write(page, /^Who will interpret/, 'language service')
  await act(page, /^Booked$/)
  await expect(row).not.toContainText('Book an interpreter')
})

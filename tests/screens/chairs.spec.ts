import { expect, openLater, openPlan, test, touch } from './clinic.ts'
import { openDesk } from './desk.ts'

test.use({ story: 'chairs' })
test.setTimeout(180_000)

/** A tablet lying at the chair: a coarse pointer, for which a millimetre is 6.3 pixels of the page. */
const TABLET = { viewport: { width: 1024, height: 768 }, hasTouch: true, isMobile: true }
const MM = 6.3

/** Adds an emergency to operatory 4, as the desk does while someone sits there. */
async function squeezeIn(
  address: string,
  { startsAt, family }: { startsAt: string; family: string },
): Promise<void> {
  const desk = await openDesk(address)
  const day = { siteId: desk.site.id, day: desk.today }
  const { board } = (await desk.query('board.day', day)).body.result.data
  const lane = board.lanes.find(({ name }: { name: string }) => name === '4')
  const said = await desk.perform('appointment.book', {
    ...day,
    startsAt,
    minutes: 15,
    operatoryId: lane.operatoryId,
    dentistId: lane.dentistId,
    patient: { kind: 'new', given: 'Iris', family, born: '1970-04-04' },
    work: ['emergency, pain'],
    emergency: true,
  })
  expect(said.body.result.data.refused).toBe(false)
}

test('case 72 someone is added to a chair in use: one quiet notice, the team takes it', async ({
  person,
  clinic,
}) => {
  const assistant = await person('Bea Tornqvist')
  const { page } = assistant
  await openPlan(page, 'G\\. Pryce')
  await squeezeIn(clinic.address, { startsAt: '09:25', family: 'Ferrant' })
  const notice = page.getByRole('region', { name: 'Added for 09:25' })
  await expect(notice).toContainText('Added to this chair for 09:25, 15 min, not accepted.')
  await expect(notice).not.toContainText('Ferrant')
  await expect(page.getByRole('dialog')).toHaveCount(0)
  const other = await person('Hamid Saleh')
  await other.page.goto('/board')
  await expect(other.page.getByText(/^Added 08:4\d, not accepted by the chair team\.$/)).toBeVisible()
  await touch(page, 'We take it at 09:25')
  await expect(notice).toHaveCount(0)
  await expect(other.page.getByText(/not accepted by the chair team/)).toHaveCount(0)
})

test('case 72 the team suggests another time on its plan page; the desk reads it and moves it there', async ({
  person,
  clinic,
}) => {
  await squeezeIn(clinic.address, { startsAt: '09:45', family: 'Salter' })
  const assistant = await person('Bea Tornqvist')
  const { page } = assistant
  await openLater(page, 'I\\. Salter')
  await expect(page.getByText(/^Added 08:4\d, not accepted by the chair team\.$/).first()).toBeVisible()
  await touch(page, 'Rather at 09:55')
  await expect(
    page.getByText(/^Added 08:4\d, not accepted; the chair team suggests 09:55\.$/).first(),
  ).toBeVisible()
  const desk = await person('Noor Kallas')
  await desk.page.goto('/day')
  const line = desk.page.getByRole('listitem').filter({ hasText: 'I. Salter' })
  await expect(line).toContainText('the chair team suggests 09:55')
  const asked = await openDesk(clinic.address)
  const appointmentId = page.url().split('/').at(-1)
  await asked.perform('appointment.change', { appointmentId, startsAt: '09:55' })
  await expect(line).toContainText('09:55')
  await expect(line).not.toContainText('not accepted')
  await expect(page.getByText(/not accepted/)).toHaveCount(0)
})

test('case 79 the dentist reads from two metres that another chair waits, without a name, until it is taken up', async ({
  person,
}) => {
  const dentist = await person('Dr Ilan Feher', TABLET)
  await openLater(dentist.page, 'S\\. Toma')
  const waits = dentist.page.getByRole('status').filter({ hasText: 'for the dentist' })
  const assistant = await person('Bea Tornqvist')
  await openPlan(assistant.page, 'G\\. Pryce')
  await expect(waits).toHaveCount(0)
  await touch(assistant.page, /^History of today confirmed/)
  await touch(assistant.page, '37, lower left second molar')
  await touch(assistant.page, 'Read back')
  await expect(waits).toHaveText('Operatory 4: waits for the dentist')
  await test.step('letters of 16 minutes of arc at two metres (9.3 mm), beside the drawing and not over it', async () => {
    const size = await waits.evaluate((element) => Number.parseFloat(getComputedStyle(element).fontSize))
    expect((size / MM) * 0.66).toBeGreaterThan(9.2)
    const strip = await waits.boundingBox()
    const drawing = await dentist.page.getByRole('region', { name: /^Sheet, / }).boundingBox()
    expect(strip && drawing && strip.y + strip.height <= drawing.y).toBe(true)
    await expect(dentist.page.getByRole('dialog')).toHaveCount(0)
  })
  const other = await person('Dr Maeve Corrigan')
  await openPlan(other.page, 'O\\. Lindahl')
  await expect(other.page.getByText('waits for the dentist')).toHaveCount(0)
  const taken = await person('Dr Ilan Feher')
  await openPlan(taken.page, 'G\\. Pryce')
  await touch(taken.page, /^My word on this plan/)
  await expect(waits).toHaveCount(0)
})

test('a line whose label does not say: read aloud from it by touch, and the tray knows', async ({
  person,
}) => {
  const { page } = await person('Bea Tornqvist')
  await openLater(page, 'S\\. Toma')
  await page.getByRole('link', { name: 'Open the tray' }).click()
  await touch(page, /^Claim/)
  const row = page.getByRole('listitem').filter({ hasText: 'files with stops' })
  await expect(row).toContainText('latex: the label does not say')
  await touch(page, 'The label of files with stops says: made without latex')
  await expect(row).not.toContainText('the label does not say')
  await expect(page.getByRole('button', { name: /^The label of files with stops/ })).toHaveCount(0)
})

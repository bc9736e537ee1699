import { BOOKINGS } from '#seed/day.ts'
import { expect, goTo, openPlan, test, touch } from './clinic.ts'
import { openDesk, signInAs } from './desk.ts'

test.use({ story: 'sight' })
const WITHIN = { timeout: 1_000 }

test('stop, check side: one touch holds the operatory on every screen until the dentist has looked', async ({
  person,
}) => {
  const dentist = await person('Dr Ilan Feher')
  const assistant = await person('Jo Petrescu')
  const desk = await person('Noor Kallas')
  const lane = (page: typeof desk.page) => page.getByRole('listitem').filter({ hasText: 'G. Pryce' }).first()
  await goTo(desk.page, 'Board')
  await openPlan(assistant.page, 'G\\. Pryce')
  await expect(lane(dentist.page)).toBeVisible()
  await assistant.page.getByRole('button', { name: 'Stop, check side' }).click()
  await Promise.all([
    expect(lane(dentist.page).getByText('Hold', { exact: true })).toBeVisible(WITHIN),
    expect(lane(desk.page).getByText('Hold', { exact: true })).toBeVisible(WITHIN),
  ])
  await dentist.page.getByRole('link', { name: /G\. Pryce/ }).click()
  await touch(dentist.page, 'Nothing was wrong')
  await expect(assistant.page.getByRole('button', { name: 'Stop, check side' })).toBeVisible(WITHIN)
})

test('the board can be worked by keyboard alone, from the first key to a task', async ({ person }) => {
  const { page } = await person('Bea Tornqvist')
  await page.goto('/board')
  await page.keyboard.press('Tab')
  await expect(page.getByRole('link', { name: 'To the content' })).toBeFocused()
  await page.keyboard.press('Enter')
  const link = page.getByRole('link', { name: /G\. Pryce/ })
  for (
    let press = 0;
    press < 60 && !(await link.evaluate((each) => each === document.activeElement));
    press += 1
  ) {
    await page.keyboard.press('Tab')
  }
  await expect(link).toBeFocused()
  await page.keyboard.press('Enter')
  const stop = page.getByRole('button', { name: 'Stop, check side' })
  await expect(stop).toBeVisible()
  for (
    let press = 0;
    press < 80 && !(await stop.evaluate((each) => each === document.activeElement));
    press += 1
  ) {
    await page.keyboard.press('Tab')
  }
  await expect(stop).toBeFocused()
})

test('a stream that drops is opened again and nothing that happened meanwhile is missing', async ({
  person,
  clinic,
}) => {
  const { page } = await person('Bea Tornqvist')
  await page.route('**/api/changes*', (route) => route.abort())
  await page.reload()
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible()
  const desk = await openDesk(clinic.address)
  const booked = await desk.book('Imogen', 'Farraday')
  expect(booked.refused).toBe(false)
  await page.waitForTimeout(1_000)
  await expect(page.getByText('I. Farraday')).toHaveCount(0)
  await page.unroute('**/api/changes*')
  await expect(page.getByText('I. Farraday')).toBeVisible({ timeout: 12_000 })
})

test('signing out cuts the stream that was opened under the sign-in', async ({ clinic }) => {
  const desk = await openDesk(clinic.address)
  const stream = await desk.openStream()
  expect(stream.status).toBe(200)
  const said = await desk.ask('/api/auth/sign-out', {
    method: 'POST',
    body: '{}',
    headers: { 'content-type': 'application/json' },
  })
  expect(said.status).toBe(200)
  const timer = new Promise((resolve) => setTimeout(() => resolve('still open'), 3_000))
  expect(await Promise.race([stream.untilClosed(), timer])).toBe('closed')
  expect((await desk.query('board.day', { siteId: desk.site.id, day: desk.today })).status).toBe(401)
})

/** Words that only an allergy of the invented patients brings: their own words, and the substances. */
const OF_ALLERGIES = BOOKINGS.flatMap(({ allergies }) => ('text' in allergies ? [allergies.text] : []))

test('the desk is sent no allergy: not on its screens, not in what they are sent', async ({ person }) => {
  expect(OF_ALLERGIES.length).toBeGreaterThan(2)
  const { page } = await person('Noor Kallas')
  const sent: Promise<string>[] = []
  page.on('response', (answer) => {
    // The program's own words name substances; what is sent of patients must not.
    if (!/\/api\/changes|\/_next\/static\//.test(answer.url())) sent.push(answer.text().catch(() => ''))
  })
  await page.reload()
  await goTo(page, 'Day')
  await goTo(page, 'Board')
  const seen = [await page.content(), ...(await Promise.all(sent))].join('\n').toLowerCase()
  expect(seen).toContain('o. lindahl')
  const leaked = [...OF_ALLERGIES, 'penicillin', 'latex allergy', '"latex":"confirmed"', '"allergyrecord"']
  expect(leaked.filter((text) => seen.includes(text.toLowerCase()))).toEqual([])
})

test('the wall shows no name, no birth date, no tooth', async ({ person }) => {
  const { page, context } = await person('Noor Kallas')
  const sent: Promise<string>[] = []
  page.on('response', (answer) => {
    if (/\/wall|trpc/.test(answer.url())) sent.push(answer.text().catch(() => ''))
  })
  await page.goto('/wall')
  await expect(page.getByRole('rowheader', { name: 'Operatory 10' })).toBeVisible()
  const seen = [await page.content(), ...(await Promise.all(sent))].join('\n')
  for (const { given, family, born } of BOOKINGS) {
    expect(seen).not.toContain(family)
    expect(seen).not.toMatch(new RegExp(`\\b${given}\\b`))
    expect(seen).not.toContain(born)
  }
  await context.clearCookies()
})

test('[site/not-in-order] what must be at hand at the start of the day is asked on the board until it is in order', async ({
  person,
  clinic,
}) => {
  const { page } = await person('Bea Tornqvist')
  const start = page.getByRole('region', { name: 'Start of the day' })
  await goTo(page, 'Board')
  await expect(start).toHaveCount(0)
  const asked = await signInAs(clinic.address, 'Bea Tornqvist')
  const { body } = await asked.query('me')
  const [{ site }] = body.result.data.sites
  await asked.perform('site.look-over', { siteId: site.id, line: 'oxygen', inOrder: false })
  await expect(start).toContainText('Oxygen is not in order')
  await touch(page, /^In order/)
  await expect(start).toHaveCount(0)
})

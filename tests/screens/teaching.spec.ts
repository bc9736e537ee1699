import { openPacks, readLabel, sayAllNumb, tickAllLines } from './acts.ts'
import { expect, goTo, test, touch } from './clinic.ts'
import { signInAs } from './desk.ts'

test.use({ story: 'teaching' })

test('case 90 a student draws first, puts the plan, the instructor agrees; the dam is on, the instructor looks, it starts', async ({
  person,
}) => {
  test.setTimeout(180_000)
  const instructor = await person('Prof. Aldo Brandt')
  const student = await person('Kofi Larbi')
  await instructor.page.goto('/signoffs')
  const chair = await instructor.page.getByRole('link', { name: /^10:20 · Operatory 9/ }).getAttribute('href')
  await student.page.goto(chair ?? '')
  await expect(student.page.getByRole('heading', { name: /^Sheet, / })).toBeVisible()

  await test.step('the instructor has this student draw first: the plan is put away on the student’s screen', async () => {
    const turn = instructor.page.getByRole('button', { name: 'Kofi Larbi draws a plan first' })
    await turn.click()
    await expect(turn).toHaveAttribute('aria-pressed', 'true')
    await expect(student.page.getByRole('region', { name: 'Your own plan first' })).toBeVisible()
    await expect(student.page.getByRole('heading', { name: /^Sheet, / })).toHaveCount(0)
    await expect(student.page.getByRole('region', { name: 'The dentist’s word' })).toHaveCount(0)
  })

  await test.step('nor do the guide and the tray say what will be clamped', async () => {
    await student.page.goto(`${chair}/guide`)
    await expect(student.page.getByText('You draw your own plan first.')).toBeVisible()
    await student.page.goto((chair ?? '').replace('/appointments/', '/trays/'))
    await expect(student.page.getByText('clamp, as you will draw it').first()).toBeVisible()
    await expect(student.page.getByText(/winged|wingless/)).toHaveCount(0)
    await expect(student.page.getByRole('link', { name: /^Print/ })).toHaveCount(0)
    const printed = await student.page.request.get(
      `/api/print/punch-template?appointment=${chair?.split('/').at(-1)}`,
    )
    expect(printed.status()).toBe(403)
    for (const path of ['/board', '/trays']) {
      await student.page.goto(path)
      await expect(student.page.getByText(/10:20|Bowen/).first()).toBeAttached()
      await expect(student.page.getByText(/winged|wingless|gum at/)).toHaveCount(0)
    }
    await student.page.goto(chair ?? '')
  })

  await test.step('teeth, clamp and hole by touch; nothing is kept before it is whole', async () => {
    const draw = student.page.getByRole('region', { name: 'Your own plan first' })
    const keep = draw.getByRole('button', { name: /^This is my plan/ })
    await expect(keep).toBeDisabled()
    await touch(student.page, '36, lower left first molar')
    await expect(keep).toBeDisabled()
    await draw.getByRole('button', { name: 'Clamp on 36' }).click()
    await draw.getByLabel('Hole for 36').selectOption('size 1')
    await keep.click()
  })

  const drawn = /^Drawn first by K\. Larbi, 08:\d\d$/
  await test.step('the plan stands beside it, with what differs', async () => {
    await expect(student.page.getByRole('heading', { name: /^Sheet, / })).toBeVisible()
    const difference = student.page.getByRole('region', { name: drawn })
    await expect(difference).toContainText('in the plan, not drawn')
    await expect(difference).toContainText(/36 size \d in the plan, drawn 1/)
  })

  await test.step('put to the instructor, who sees the student’s drawing beside the plan', async () => {
    await touch(student.page, /^Put this plan to the instructor/)
    const row = instructor.page.getByRole('listitem').filter({ hasText: 'asks you to agree to the plan' })
    await expect(row.getByRole('region', { name: drawn })).toContainText('in the plan, not drawn')
    await touch(instructor.page, /^I agree to plan/)
    await expect(instructor.page.getByText('No chair waits for you.')).toBeVisible()
  })

  const assistant = await person('Bea Tornqvist')
  const second = await person('Hamid Saleh')
  const desk = await person('Noor Kallas')
  await test.step('tray and patient', async () => {
    await assistant.page.goto((chair ?? '').replace('/appointments/', '/trays/'))
    await touch(assistant.page, /^Claim/)
    await tickAllLines(assistant.page)
    await touch(assistant.page, /^Laid out/)
    await second.page.goto(assistant.page.url())
    await touch(second.page, /^Checked/)
    await goTo(desk.page, 'Day')
    const line = desk.page.getByRole('listitem').filter({ hasText: 'C. Bowen' })
    await line.getByRole('button', { name: 'Arrived' }).click()
    await assistant.page.goto(chair ?? '')
    await touch(assistant.page, '30 Aug 1998')
    await touch(assistant.page, /^Seated/)
    await expect(assistant.page.getByText('Next, from “seated”')).toBeVisible()
    await touch(assistant.page, /^History of today confirmed/)
  })

  await test.step('numb and clamped, by the student', async () => {
    const { page } = student
    await page.goto(chair ?? '')
    await touch(page, '36, lower left first molar')
    await touch(page, 'Read back')
    await page.getByLabel('Solution').selectOption('lidocaine 2 %, epinephrine 1 : 100 000')
    const drawn = page.getByRole('group', { name: 'What is drawn up' })
    await drawn.getByLabel('How').selectOption('infiltration')
    await readLabel(assistant.page, page)
    await touch(page, /^Given now/)
    await expect(page.getByText('Next, from “injected”')).toBeVisible()
    await sayAllNumb(assistant.page)
    await touch(assistant.page, 'Teeth counted before the dam')
    await openPacks(second.page)
    await touch(assistant.page, /^Clamp tied/)
    await touch(assistant.page, 'Clamp on')
    await expect(page.getByText('Next, from “dam on”')).toBeVisible()
    for (const look of ['Tied through both holes', 'No rust, crack or bend', 'Bow to the back']) {
      await touch(page, look)
    }
    await touch(page, /^Placed as planned/)
    await touch(page, 'Teeth counted through the dam')
  })

  await test.step('the chair waits for the instructor; the student’s own time-out opens nothing', async () => {
    await expect(student.page.getByRole('button', { name: 'Started' })).toHaveCount(0)
    const row = instructor.page
      .getByRole('listitem')
      .filter({ hasText: 'asks you to look at the isolation before the start' })
    await expect(row).toContainText('K. Larbi')
    await expect(row).toContainText('through the dam')
    await row.getByRole('button', { name: '36, lower left first molar' }).click()
    await row.getByRole('button', { name: 'Time-out held' }).click()
    await expect(instructor.page.getByText('No chair waits for you.')).toBeVisible()
    await touch(student.page, 'Started')
    await expect(student.page.getByText('Next, from “under way”')).toBeVisible()
  })
})

test('case 86 a shared station: digits for each act, no word under an assistant’s, stop without any', async ({
  person,
  clinic,
}) => {
  const manager = await person('Ingrid Vasarely')
  const { page } = manager
  await page.goto('/settings/people')
  await page.getByLabel('What this device is called').fill('Operatory 4')
  await touch(page, /^Make this device a shared station/)

  await test.step('nobody is signed in: no name of a patient, no tooth, and a stop within reach', async () => {
    await expect(page.getByRole('heading', { name: 'Who is here?' })).toBeVisible()
    await expect(page.getByRole('heading', { level: 1 })).toHaveText('Operatory 4')
    await expect(page.getByText('Pryce')).toHaveCount(0)
    await page.goto('/board')
    await expect(page.getByRole('heading', { name: 'Who is here?' })).toBeVisible()
  })

  const takeOver = async (name: string, digits: string) => {
    await page.getByRole('button', { name: new RegExp(`^${name}`) }).click()
    await page.getByLabel('Your digits').fill(digits)
    await touch(page, 'Here I am')
  }
  await test.step('wrong digits are told; the right ones open it under that person’s name', async () => {
    await takeOver('Bea Tornqvist', '0000')
    await expect(page.getByText('These are not the digits of this person.')).toBeVisible()
    await page.getByLabel('Your digits').fill('4321')
    await touch(page, 'Here I am')
    await expect(page).toHaveURL(/board/)
    await expect(page.getByText('Bea Tornqvist')).toBeVisible()
  })

  await test.step('an assistant’s digits give no dentist’s word, offered or sent', async () => {
    await page.getByRole('link', { name: /G\. Pryce/ }).click()
    await expect(page.getByRole('button', { name: 'Stop, check side' })).toBeVisible()
    await expect(page.getByRole('button', { name: /^My word on this plan/ })).toHaveCount(0)
    const appointmentId = page.url().split('/').at(-1)
    const said = await page.request.post('/api/trpc/perform', {
      data: {
        id: crypto.randomUUID(),
        kind: 'word.give',
        input: { appointmentId, number: 1 },
        sawRevision: 0,
        madeAt: 0,
      },
    })
    const { result } = await said.json()
    expect(result.data).toMatchObject({ refused: true, findings: [{ rule: 'person/not-allowed' }] })
  })

  await test.step('the next person takes it over; what is done is kept under person and device', async () => {
    await touch(page, 'Next person')
    await expect(page.getByRole('heading', { name: 'Who is here?' })).toBeVisible()
    await takeOver('Dr Ilan Feher', '4321')
    await expect(page.getByText('Dr Ilan Feher').first()).toBeVisible()
    await touch(page, 'Next person')
  })

  await test.step('anyone stops without digits, and every screen shows it', async () => {
    const dentist = await person('Dr Maeve Corrigan')
    await touch(page, /^Stop, check side: Operatory 4/)
    await expect(page.getByText('stopped, every screen shows it')).toBeVisible()
    await expect(
      dentist.page.getByRole('listitem').filter({ hasText: 'G. Pryce' }).getByText(/Stop/).first(),
    ).toBeVisible()
  })

  await test.step('a device that is a station no longer lets nobody in', async () => {
    const boss = await signInAs(clinic.address, 'Ingrid Vasarely')
    const members = (await boss.query('clinic.members')).body.result.data as { id: string; name: string }[]
    const memberId = members.find(({ name }) => name === 'Operatory 4')?.id
    const ended = await boss.ask('/api/people', {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ kind: 'deactivate', memberId }),
    })
    expect(ended.status).toBe(200)
    await page.goto('/sign-in')
    await expect(page.getByRole('heading', { name: 'Who is here?' })).toHaveCount(0)
  })
})

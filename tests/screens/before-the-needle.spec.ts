import { expect, type Person, test } from './clinic.ts'
import { type Said, signInAs } from './desk.ts'
import { act, pick, write } from './keys.ts'

test.use({ story: 'before-the-needle' })
test.setTimeout(240_000)

const REFUSED = 'Not done. Nothing was changed.'
const alertOf = ({ page }: Person) => page.getByRole('main').getByRole('alert')
const idOf = ({ page }: Person): string => page.url().split('/').at(-1) ?? ''

/** What stands before an act that is not offered yet. */
const notYet = ({ page }: Person, act: string) => page.getByRole('region', { name: `Before “${act}”` })
const rulesIn = ({ body }: Said): string[] =>
  (body.result.data.findings as { rule: string }[]).map(({ rule }) => rule)
/** Gwen Pryce’s injection as it is planned, or otherwise. */
const injection = (appointmentId: string, more: object = {}) => ({
  appointmentId,
  dose: {
    agent: 'lidocaine',
    milliPercent: 2000,
    vasoconstrictor: 'epinephrine',
    ratio: 100_000,
    cartridge: 1700,
    technique: 'block',
    tooth: '37',
    side: 'left',
    tenthsOfCartridge: 10,
    ...more,
  },
})

/** Opens a patient's plan page from the board, by keyboard. */
async function openBy(person: Person, patient: RegExp): Promise<void> {
  await person.page.goto('/board')
  await act(person.page, patient)
  await expect(person.page.getByRole('button', { name: 'Stop, check side' })).toBeVisible()
}

test.describe('which tooth, by keyboard alone', () => {
  test('[tooth/words-contradict] an ambiguous tooth: no word is taken before the dentist has said which', async ({
    person,
    clinic,
  }) => {
    const dentist = await person('Dr Ilan Feher')
    await openBy(dentist, /M\. Kovar/)
    const { page } = dentist
    await expect(page.getByRole('heading', { level: 1 })).toHaveText('Which tooth is not settled')
    await expect(page.getByRole('button', { name: /^My word on this plan/ })).toHaveCount(0)
    const asked = await signInAs(clinic.address, 'Dr Ilan Feher')
    const given = await asked.perform('word.give', { appointmentId: idOf(dentist), number: 1 })
    expect(given.body.result.data).toMatchObject({ refused: true, findings: [{ rule: 'word/draft' }] })
    await act(page, /^47\s*lower right second molar/)
    await expect(page.getByRole('heading', { level: 1 })).toHaveText('lower right second molar')
    await act(page, /^My word on this plan/)
    await expect(page.getByRole('region', { name: 'The dentist’s word' })).toContainText(
      'Dr Feher gave their word',
    )
  })
})

test.describe('who it is and latex, by keyboard alone', () => {
  test.describe.configure({ mode: 'serial' })

  test('[identity/differs] the wrong day is refused, nobody is seated on it, and then it is typed', async ({
    person,
    clinic,
  }) => {
    const assistant = await person('Bea Tornqvist')
    await openBy(assistant, /O\. Lindahl/)
    const { page } = assistant
    const desk = await signInAs(clinic.address, 'Noor Kallas')
    const asked = await signInAs(clinic.address, 'Bea Tornqvist')
    await desk.perform('appointment.arrive', { appointmentId: idOf(assistant) })
    await expect(page.getByRole('heading', { name: 'Who is it?' })).toBeVisible()
    await expect(page.getByText('Oskar Lindahl, birth date to be asked')).toBeVisible()
    const days = page.getByRole('group', { name: 'Birth day' }).getByRole('button')
    await expect(days).toHaveCount(4)
    const wrong = (await days.allInnerTexts()).find((day) => day !== '17 Sept 1983') ?? ''
    await act(page, new RegExp(`^${wrong}$`))
    await expect(alertOf(assistant)).toContainText('this may be another patient')
    await expect(page.getByRole('button', { name: /^Seated/ })).toHaveCount(0)
    const seating = await asked.perform('visit.seat', { appointmentId: idOf(assistant) })
    expect(rulesIn(seating)).toContain('identity/differs')
    // On every other screen too a touch is no answer any more, and the board holds it.
    const other = await person('Hamid Saleh')
    await other.page.goto('/board')
    await expect(other.page.getByText('this may be another patient').first()).toBeVisible()
    await openBy(other, /O\. Lindahl/)
    await expect(other.page.getByRole('group', { name: 'Birth day' })).toHaveCount(0)
    await expect(other.page.getByLabel(/^Full name/)).toBeVisible()
    await write(page, /^Full name/, 'Oskar Lindahl')
    await write(page, /^Birth date/, '17.9.1983')
    await act(page, /^Compare and record/)
    await expect(page.getByText('Identity given to B. Tornqvist')).toBeVisible()
  })

  test('[latex/conflict] a confirmed latex allergy and latex gloves on the tray: not seated before it is swapped', async ({
    person,
    clinic,
  }) => {
    const assistant = await person('Bea Tornqvist')
    await openBy(assistant, /O\. Lindahl/)
    const { page } = assistant
    await expect(notYet(assistant, 'Seated')).toContainText('Latex allergy confirmed')
    await expect(page.getByRole('button', { name: /^Seated/ })).toHaveCount(0)
    const asked = await signInAs(clinic.address, 'Bea Tornqvist')
    const seating = await asked.perform('visit.seat', { appointmentId: idOf(assistant) })
    expect(rulesIn(seating)).toContain('latex/conflict')
    await act(page, /^Open the tray/)
    await act(page, /^Something is wrong: latex gloves/)
    await write(page, /^What lies there instead/, 'vinyl gloves')
    await pick(page, /^Latex, by its label/, 'made')
    await act(page, /^Swap it/)
    await expect(page.getByText('Latex allergy confirmed, and the tray has')).toHaveCount(0)
    await expect(page.getByText('vinyl gloves').first()).toBeVisible()
  })
})

test.describe('an unreleased pack, by keyboard alone', () => {
  test('[pack/not-released] a pack of a load nobody has released is not taken onto a tray', async ({
    person,
    clinic,
  }) => {
    const code = await wrapUnreleased(clinic.address)
    const assistant = await person('Bea Tornqvist')
    await openBy(assistant, /F\. Nouri/)
    const { page } = assistant
    await act(page, /^Open the tray/)
    if (await page.getByRole('button', { name: /^Claim/ }).isVisible()) await act(page, /^Claim/)
    await write(page, /^Scan a pack/, code)
    await page.keyboard.press('Enter')
    await expect(alertOf(assistant)).toContainText(REFUSED)
    await expect(alertOf(assistant)).toContainText(code)
  })
})

test.describe('before the needle, by keyboard alone', () => {
  test.describe.configure({ mode: 'serial' })

  test('[word/missing] [word/lapsed] no needle without the word, nor on one that lapsed', async ({
    person,
    clinic,
  }) => {
    const dentist = await person('Dr Ilan Feher')
    await openBy(dentist, /G\. Pryce/)
    const { page } = dentist
    const asked = await signInAs(clinic.address, 'Dr Ilan Feher')
    const needle = async () => rulesIn(await asked.perform('dose.record', injection(idOf(dentist))))
    await act(page, /^History of today confirmed/)
    await act(page, /^37, lower left second molar$/)
    await act(page, /^Read back/)
    await expect(page.getByText(/^Tooth and side read back/)).toBeVisible()
    await expect(notYet(dentist, 'Given now')).toContainText('has not given their word')
    await expect(page.getByRole('button', { name: /^Given now/ })).toHaveCount(0)
    expect(await needle()).toEqual(['word/missing', 'cartridge/not-read-back'])
    await act(page, /^My word on this plan/)
    const word = page.getByRole('region', { name: 'The dentist’s word' })
    await expect(word).toContainText('Dr Feher gave their word on plan')
    await act(page, /^Enter the weight/)
    await write(page, /^Weight/, '61')
    await act(page, /^kilo/i)
    await act(page, /^It is 61 kg/)
    await expect(word).toContainText('Lapsed')
    await expect(notYet(dentist, 'Given now')).toContainText('The dentist’s word has lapsed')
    expect(await needle()).toEqual(['word/lapsed', 'cartridge/not-read-back'])
    await expect(page.getByText('Next, from “seated”')).toBeVisible()
  })
  test('[side/differs] the wrong side read back is refused, and so is the needle', async ({
    person,
    clinic,
  }) => {
    const dentist = await person('Dr Ilan Feher')
    const asked = await signInAs(clinic.address, 'Dr Ilan Feher')
    await openBy(dentist, /G\. Pryce/)
    const { page } = dentist
    const assistant = await person('Bea Tornqvist')
    await openBy(assistant, /G\. Pryce/)
    await act(assistant.page, /^Stop, check side/)
    await expect(page.getByText('Stopped. What did you find?')).toBeVisible()
    await expect(notYet(dentist, 'Given now')).toContainText('Stopped: check the side')
    expect(rulesIn(await asked.perform('dose.record', injection(idOf(dentist))))).toContain('side/stopped')
    await act(page, /^It was the wrong side/)
    await act(page, /^47, lower right second molar$/)
    await act(page, /^Read back/)
    await expect(alertOf(dentist)).toContainText('First ask who the patient is, then which tooth')
    await expect(notYet(dentist, 'Given now')).toContainText('Tooth and side still to be read back')
    await expect(page.getByRole('button', { name: /^Given now/ })).toHaveCount(0)
    const wrong = injection(idOf(dentist), { tooth: '47', side: 'right' })
    const found = rulesIn(await asked.perform('dose.record', wrong))
    expect(found).toEqual(expect.arrayContaining(['side/not-read-back', 'dose/other-side']))
    await expect(page.getByText('Next, from “seated”')).toBeVisible()
  })

  test('case 48 the wrong cartridge stops everyone, one past its day is not taken, and two people read the right one', async ({
    person,
    clinic,
  }) => {
    const dentist = await person('Dr Ilan Feher')
    const assistant = await person('Bea Tornqvist')
    await openBy(dentist, /G\. Pryce/)
    await openBy(assistant, /G\. Pryce/)
    const { page } = assistant
    const label = (each: Person) => each.page.getByRole('region', { name: 'The cartridge’s label' })
    await pick(page, /^Drug and strength/, 'articaine 4 %, epinephrine 1 : 1')
    await write(page, /^To be used by/, '2027-12')
    await act(page, /^Read aloud/)
    for (const each of [assistant, dentist]) {
      await expect(label(each)).toContainText('Not what is planned')
      await expect(label(each).getByRole('button', { name: /^I heard it/ })).toHaveCount(0)
    }
    await expect(notYet(dentist, 'Given now')).toContainText('This cartridge is articaine 4 %')
    await expect(dentist.page.getByRole('button', { name: /^Given now/ })).toHaveCount(0)
    const asked = await signInAs(clinic.address, 'Dr Ilan Feher')
    for (const more of [{}, { agent: 'articaine', milliPercent: 4000 }]) {
      const said = await asked.perform('dose.record', injection(idOf(dentist), more))
      expect(rulesIn(said)).toContain('dose/not-as-planned')
    }
    await pick(page, /^Drug and strength/, 'lidocaine 2 %, epinephrine 1 : 1')
    await write(page, /^To be used by/, '03/2026')
    await act(page, /^Read aloud/)
    await expect(alertOf(assistant)).toContainText('This cartridge was to be used by 2026-03-31')
    await write(page, /^To be used by/, '12/2027')
    await act(page, /^Read aloud/)
    await expect(label(assistant)).toContainText('Now another person hears it and answers')
    await expect(notYet(dentist, 'Given now')).toContainText('another has still to answer it')
    await act(dentist.page, /^I heard it and it is what is planned/)
    for (const each of [assistant, dentist]) {
      await expect(label(each)).toContainText(
        'to be used by 31 Dec 2027, read by B. Tornqvist, answered by Dr Feher',
      )
    }
  })

  test('[identity/differs] the wrong patient in the chair: who it is is typed anew, and no needle before', async ({
    person,
    clinic,
  }) => {
    const dentist = await person('Dr Ilan Feher')
    const asked = await signInAs(clinic.address, 'Dr Ilan Feher')
    await openBy(dentist, /G\. Pryce/)
    const { page } = dentist
    await act(page, /^Stop, check side/)
    await act(page, /^It was the wrong patient/)
    await expect(page.getByText('Gwen Pryce, birth date to be asked')).toBeVisible()
    await expect(notYet(dentist, 'Given now')).toContainText('this may be another patient')
    expect(rulesIn(await asked.perform('dose.record', injection(idOf(dentist))))).toContain(
      'identity/differs',
    )
    await expect(page.getByText('Next, from “seated”')).toBeVisible()
    await expect(page.getByRole('group', { name: 'Birth day' })).toHaveCount(0)
    await write(page, /^Full name/, 'Gwen Pryce')
    await write(page, /^Birth date/, '29.10.1986')
    await act(page, /^Compare and record/)
    await act(page, /^37, lower left second molar$/)
    await act(page, /^Read back/)
    await act(page, /^My word on this plan/)
    await act(page, /^Given now/)
    await expect(page.getByText('Next, from “injected”')).toBeVisible()
  })

  test('[dose/not-as-planned] a block and an infiltration of two agents: each is planned, checked and read for itself, and waits for its cartridge', async ({
    person,
  }) => {
    const dentist = await person('Dr Ilan Feher')
    const assistant = await person('Bea Tornqvist')
    await openBy(dentist, /G\. Pryce/)
    await openBy(assistant, /G\. Pryce/)
    const { page } = dentist
    const planned = page.getByRole('list', { name: 'Planned injections' }).getByRole('listitem')
    await act(page, /^Another injection$/)
    await expect(planned).toHaveText([/^lidocaine 2 %.*block at 37\s*given$/])
    // Where, is among the teeth the plan names; nothing is typed.
    await expect(page.getByLabel('Where').getByRole('option')).toHaveText([/^37, lower left second molar/])
    await pick(page, /^Solution/, 'articaine 4 %, epinephrine 1 : 1')
    await pick(page, /^How/, 'inf')
    await pick(page, /^Cartridges/, '0.5')
    await expect(notYet(dentist, 'Given now')).toContainText('This cartridge is articaine 4 %')
    await act(page, /^Add to the plan and check/)
    await expect(planned).toHaveCount(2)
    await expect(planned.nth(1)).toContainText('articaine 4 %, epinephrine 1 : 100 000, infiltration at 37')
    await expect(page.getByText(/^articaine: .* of .*, limited by/)).toBeVisible()
    await expect(notYet(dentist, 'Given now')).toContainText('The dentist’s word has lapsed')
    await act(page, /^My word on this plan/)
    // The second cartridge is not on the tray, and no label that two have read is one for it.
    await expect(notYet(dentist, 'Given now')).toContainText('Re-check the tray: + cartridge articaine 4 %')
    await expect(notYet(dentist, 'Given now')).toContainText('another has still to answer it')
    await act(assistant.page, /^Read another label$/)
    await pick(assistant.page, /^Drug and strength/, 'articaine 4 %, epinephrine 1 : 1')
    await write(assistant.page, /^To be used by/, '2027-12')
    await act(assistant.page, /^Read aloud/)
    await act(page, /^I heard it and it is what is planned/)
    await expect(notYet(dentist, 'Given now')).not.toContainText('another has still to answer it')
    await expect(notYet(dentist, 'Given now')).toContainText('Re-check the tray: + cartridge articaine 4 %')
    await expect(page.getByRole('button', { name: /^Given now/ })).toHaveCount(0)
  })
})

test.describe('help here', () => {
  test('[help/open] two touches tell every screen, each step is stamped, and a dentist says how it ended', async ({
    person,
  }) => {
    const assistant = await person('Bea Tornqvist')
    const desk = await person('Noor Kallas')
    await openBy(assistant, /E\. Brannigan/)
    const { page } = assistant
    await act(page, /^Help here$/)
    await act(page, /^Bleach on tissue$/)
    const card = page.getByRole('region', { name: 'Help is called: bleach on tissue' })
    await expect(card).toContainText('The team is told')
    await desk.page.goto('/board')
    await expect(desk.page.getByText('Help is called to this operatory')).toBeVisible()
    await act(page, /^Stop the irrigation/)
    await expect(card).toContainText(/Stop the irrigation\. Suction on\..*B\. Tornqvist/)
    await expect(card).toContainText('A dentist says how it ended.')
    const dentist = await person('Dr Maeve Corrigan')
    await openBy(dentist, /E\. Brannigan/)
    await act(dentist.page, /^Finished/)
    await act(dentist.page, /^Settled here$/)
    await expect(card).toHaveCount(0)
  })

  test('[help/drill] a drill is told and holds nothing', async ({ person }) => {
    const assistant = await person('Hamid Saleh')
    await assistant.page.goto('/board')
    await act(assistant.page, /^Help here$/)
    await act(assistant.page, /^Operatory 4$/)
    await act(assistant.page, /^A drill/)
    await act(assistant.page, /^Collapse$/)
    await act(assistant.page, /G\. Pryce/)
    await expect(assistant.page.getByRole('region', { name: 'Drill: collapse' })).toContainText(
      'Nothing is held.',
    )
    await expect(assistant.page.getByRole('main')).not.toContainText('Help is called here')
  })
})

test('[word/same-person] two steps: the student puts the plan, the instructor agrees to it, never the student', async ({
  person,
}) => {
  const student = await person('Kofi Larbi')
  const instructor = await person('Prof. Aldo Brandt')
  await instructor.page.goto('/signoffs')
  await expect(instructor.page.getByText('No chair waits for you.')).toBeVisible()
  const chair = await instructor.page.getByRole('link', { name: /^10:20 · Operatory 9/ }).getAttribute('href')
  await student.page.goto(chair ?? '')
  await act(student.page, /^Put this plan to the instructor/)
  await expect(student.page.getByRole('button', { name: /^My word on this plan/ })).toHaveCount(0)
  const row = instructor.page.getByRole('listitem').filter({ hasText: 'asks you to agree to the plan' })
  await expect(row).toContainText('K. Larbi')
  await act(instructor.page, /^I agree to plan/)
  await expect(instructor.page.getByText('No chair waits for you.')).toBeVisible()
  await expect(student.page.getByRole('region', { name: 'The dentist’s word' })).toContainText(
    'Prof. Brandt gave their word on plan',
  )
})

test('the manager names someone, who signs in; and ends it again', async ({ person, clinic, browser }) => {
  const manager = await person('Ingrid Vasarely')
  const { page } = manager
  await page.goto('/settings/people')
  await write(page, /^Name$/, 'Ada Newcomer')
  await write(page, /^E-mail to sign in with/, 'ada@weirboard.invalid')
  await write(page, /^First password/, 'ten characters or more')
  await page.getByRole('region', { name: 'Someone new' }).getByRole('button', { name: 'assistant' }).click()
  await act(page, /^Add$/)
  await expect(page.getByText('Ada Newcomer is added and can sign in.')).toBeVisible()
  const context = await browser.newContext({ baseURL: clinic.address })
  const signedIn = await context.request.post('/api/auth/sign-in/email', {
    data: { email: 'ada@weirboard.invalid', password: 'ten characters or more' },
  })
  expect(signedIn.status()).toBe(200)
  expect((await context.request.get('/api/trpc/clinic.members')).status()).toBe(200)
  await page.locator('summary').filter({ hasText: 'Ada Newcomer' }).click()
  await page.getByRole('button', { name: /^Works here no longer/ }).click()
  await expect(page.locator('summary').filter({ hasText: 'Ada Newcomer' })).toContainText(
    'works here no longer',
  )
  expect((await context.request.get('/api/trpc/clinic.members')).status()).toBe(401)
  await context.close()
})

interface Held {
  steriliser: { id: string }[]
  load: { id: string; number: string }[]
  pack: { loadId: string | null; code: string }[]
  instrumentSet: { id: string; mark: string }[]
}

/** Wraps a set into a load that still runs, and gives its code. */
async function wrapUnreleased(address: string): Promise<string> {
  const lead = await signInAs(address, 'Wiktor Zielak')
  const [{ site, today }] = (await lead.query('me')).body.result.data.sites
  const look = async (): Promise<Held> =>
    (await lead.query('sterility.window', { siteId: site.id, day: today })).body.result.data.world
  const steriliserId = (await look()).steriliser[0]?.id
  await lead.perform('load.start', { steriliserId, number: 'not yet', programme: 'wrapped-instruments' })
  const kind = 'examination-set'
  await lead.perform('set.add', { kind, mark: 'late', siteId: site.id })
  const { load, instrumentSet } = await look()
  const loadId = load.find(({ number }) => number === 'not yet')?.id
  const setId = instrumentSet.find(({ mark }) => mark === 'late')?.id
  await lead.perform('pack.make', { steriliserId, loadId, kind, setId, place: 'hot' })
  const code = (await look()).pack.find((pack) => pack.loadId === loadId)?.code
  if (code === undefined) throw new Error('No set was wrapped.')
  return code
}

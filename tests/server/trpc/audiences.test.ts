import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { appRouter } from '#server/trpc/router.ts'
import { must } from '#shared/base/assert.ts'
import type { AppointmentId, MemberId } from '#shared/ids.ts'
import { addOperatory, addPerson } from '#tests/support/clinic.ts'
import { openTestHouse, type TestHouse } from '#tests/support/house.ts'

const DAY = '2026-11-24'
/** Words of one patient, to be found nowhere else. */
const NAME = 'Quillfeather'
const BORN = '1990-04-02'
const CLINICAL = ['"46"', 'comp 46', 'strawberry balm', 'warfarin since spring', '"confirmed"', 'articaine']

/** Every question a screen can put, by its path; the one mutation and what changes feeds are no questions. */
const QUESTIONS = Object.entries(appRouter._def.procedures)
  .filter(([, procedure]) => (procedure as { _def: { type: string } })._def.type === 'query')
  .map(([path]) => path)

describe('every question, put by those who may hold no clinical fact', () => {
  let t: TestHouse
  let station: string
  let desk: string
  let dentist: string
  let appointmentId: AppointmentId
  let patientId: string
  beforeAll(async () => {
    t = await openTestHouse('pglite')
    const dentistId: MemberId = await addPerson(t.clinic, 'Dr Quill', 'dentist')
    await t.clinic.done('appointment.book', {
      siteId: t.clinic.siteId,
      day: DAY,
      startsAt: '10:00',
      minutes: 60,
      operatoryId: await addOperatory(t.clinic, '3'),
      dentistId,
      patient: { kind: 'new', given: 'Ada', family: NAME, born: BORN },
      work: ['comp 46 MO'],
    })
    const world = await t.clinic.world()
    appointmentId = must(world.appointment[0], 'it was booked').id
    patientId = must(world.patient[0], 'with a patient').id
    await t.clinic.done(
      'allergies.record',
      {
        patientId,
        state: 'listed',
        latex: 'confirmed',
        allergies: [{ substance: 'other', certainty: 'confirmed', text: 'strawberry balm' }],
      },
      dentistId,
    )
    await t.clinic.done('history.confirm', { patientId, added: ['warfarin since spring'] }, dentistId)
    desk = await t.signIn(await addPerson(t.clinic, 'Dora Desk', 'front-desk'))
    dentist = await t.signIn(dentistId)
    const own = await t.signIn(await addPerson(t.clinic, 'Max Second', 'manager'))
    const made = await fetch(`${t.address}/api/station`, {
      method: 'POST',
      headers: { cookie: own, 'content-type': 'application/json' },
      body: JSON.stringify({ kind: 'register', name: 'Op 3' }),
    })
    const kept = made.headers.getSetCookie().map((each) => each.split(';')[0] ?? '')
    station = kept.filter((each) => !each.endsWith('=')).join('; ')
  }, 120_000)
  afterAll(() => t.close())

  /** One input that has what any question may ask for. */
  const input = () => ({
    siteId: t.clinic.siteId,
    day: DAY,
    appointmentId,
    patientId,
    memberId: t.clinic.manager,
    text: NAME.slice(0, 4),
    kind: 'examination-set',
    from: DAY,
    to: DAY,
  })
  const ask = async (path: string, cookie: string) => {
    const asked = `${t.address}/api/trpc/${path}?input=${encodeURIComponent(JSON.stringify(input()))}`
    const answer = await fetch(asked, { headers: { cookie } })
    return { path, status: answer.status, text: await answer.text() }
  }
  const askAll = async (cookie: string) => {
    const answers = []
    for (const path of QUESTIONS) answers.push(await ask(path, cookie))
    return answers
  }
  const holding = (answers: { path: string; text: string }[], words: readonly string[]): string[] =>
    answers.flatMap(({ path, text }) =>
      words.filter((word) => text.includes(word)).map((word) => `${path}: ${word}`),
    )

  it('there is something to find: to those who treat all of it is told', async () => {
    const answers = await askAll(dentist)
    expect(QUESTIONS.length).toBeGreaterThan(20)
    const told = answers.map(({ text }) => text).join('\n')
    for (const word of [NAME, BORN, 'strawberry balm', 'warfarin since spring', '"46"'])
      expect(told).toContain(word)
  })

  it('a station that nobody has taken over is told no name, no birth date and nothing clinical', async () => {
    const answers = await askAll(station)
    expect(answers.find(({ path }) => path === 'board.day')?.status).toBe(200)
    expect(holding(answers, [NAME, BORN, ...CLINICAL])).toEqual([])
  })

  it('the desk is told who comes, and nothing clinical', async () => {
    const answers = await askAll(desk)
    expect(answers.find(({ path }) => path === 'board.day')?.text).toContain(NAME)
    expect(holding(answers, CLINICAL)).toEqual([])
  })

  it.each(['day.csv', 'day.ics', 'day.fhir.json'])('a station gives no %s out', async (file) => {
    const answer = await fetch(`${t.address}/api/export/${file}?day=${DAY}`, { headers: { cookie: station } })
    expect(answer.status).toBe(403)
    const text = await answer.text()
    expect(JSON.parse(text)).toMatchObject({
      error: { what: expect.any(String), why: expect.any(String), todo: expect.any(String) },
    })
    expect(text).not.toContain(NAME)
  })

  it('the desk takes the day as a list, and no allergies with it', async () => {
    const list = await fetch(`${t.address}/api/export/day.csv?day=${DAY}`, { headers: { cookie: desk } })
    const text = await list.text()
    expect([list.status, text.includes(NAME), text.includes('strawberry')]).toEqual([200, true, false])
    const bundle = await fetch(`${t.address}/api/export/day.fhir.json?day=${DAY}`, {
      headers: { cookie: desk },
    })
    expect(bundle.status).toBe(403)
  })
})

import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { asClinic } from '#db/as-clinic.ts'
import { ENGINES } from '#db/database.ts'
import { save } from '#db/save.ts'
import type { Placements } from '#server/trpc/sign-offs-router.ts'
import { must } from '#shared/base/assert.ts'
import { type Day, instant } from '#shared/base/moment.ts'
import { putting, removing } from '#shared/change.ts'
import type { AppointmentId, MemberId } from '#shared/ids.ts'
import type { AsPlaced } from '#shared/isolation/isolation-facts.ts'
import { addPerson, newId } from '#tests/support/clinic.ts'
import { openTestHouse, type TestHouse } from '#tests/support/house.ts'

const TODAY = '2026-11-24' as Day

describe.each(ENGINES)('what a student has placed in all, on %s', (engine) => {
  let t: TestHouse
  let student: MemberId
  const people = new Map<string, string>()
  beforeAll(async () => {
    t = await openTestHouse(engine)
    student = await addPerson(t.clinic, 'Sana Learner', 'student')
    people.set('instructor', await t.signIn(await addPerson(t.clinic, 'Prof. Idris', 'instructor')))
    people.set('student', await t.signIn(student))
    people.set('desk', await t.signIn(await addPerson(t.clinic, 'Dora Desk', 'front-desk')))
  }, 60_000)
  afterAll(() => t.close())

  const book = async (day: string, studentId: MemberId | null): Promise<AppointmentId> => {
    const input = {
      siteId: t.clinic.siteId,
      day,
      startsAt: '10:00',
      minutes: 30,
      operatoryId: null,
      dentistId: null,
      studentId,
      patient: { kind: 'new', given: 'Ada', family: newId<string>(), born: '1990-04-02' },
      work: ['RCT 36'],
    }
    await t.clinic.done('appointment.book', input)
    return must(
      (await t.clinic.world()).appointment.find((each) => each.day === day && each.studentId === studentId),
      'it is booked',
    ).id
  }
  const place = (appointmentId: AppointmentId): Promise<void> => {
    const placed: AsPlaced = {
      clinicId: t.clinic.clinicId,
      id: newId(),
      appointmentId,
      planNumber: 1,
      field: ['36'],
      clamps: [],
      sheets: null,
      minutes: null,
      outcome: { leak: false, tear: false, retries: 0, gum: 'sound' },
      by: student,
      at: instant(0),
    }
    return asClinic(t.clinic.database, t.clinic.clinicId, (tx) =>
      save(tx, t.clinic.clinicId, {
        change: putting('asPlaced', placed),
        before: removing('asPlaced', placed.id),
      }),
    )
  }
  const counted = async (who: string, before: string = TODAY) => {
    const asked = encodeURIComponent(JSON.stringify({ before }))
    const answer = await fetch(`${t.address}/api/trpc/signOffs.placements?input=${asked}`, {
      headers: { cookie: people.get(who) ?? '' },
    })
    const body = (await answer.json()) as { result?: { data: Placements[] } }
    return { status: answer.status, placements: body.result?.data ?? null }
  }

  it('counts visits with a dam on all days before, one with two sheets once, and nobody else’s', async () => {
    const last = await book('2026-03-02', student)
    await place(last)
    await place(last)
    await place(await book('2026-10-05', student))
    await book('2026-10-06', student)
    await place(await book('2026-10-07', null))
    await place(await book(TODAY, student))
    expect(await counted('instructor')).toEqual({
      status: 200,
      placements: [{ studentId: student, visits: 2 }],
    })
    expect((await counted('instructor', '2026-11-25')).placements).toEqual([
      { studentId: student, visits: 3 },
    ])
  })

  it('tells it to those who teach', async () => {
    expect(await counted('student')).toEqual({ status: 200, placements: [] })
    expect((await counted('desk')).status).toBe(403)
  })
})

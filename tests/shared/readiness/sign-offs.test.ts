import { expect, test } from 'vitest'
import { microlitres } from '#shared/base/amount.ts'
import { must } from '#shared/base/assert.ts'
import type { World } from '#shared/facts.ts'
import type { AppointmentId, DoseId, IsolationChoiceId, PlanId, VisitId } from '#shared/ids.ts'
import { lapseCauses } from '#shared/readiness/lapse.ts'
import { signOffsFor } from '#shared/readiness/sign-offs.ts'
import {
  appointment,
  at,
  CLINIC,
  DAY,
  having,
  INSTRUCTOR,
  idOf,
  plan,
  STUDENT,
  scene,
  visit,
  word,
} from './scene.ts'

const CHAIRS = [400, 401, 402] as const
const bare: World = { ...scene(), appointment: [], plan: [], visit: [] }

/** Three student chairs under one instructor; each has proposed its plan, five minutes apart. */
const proposed = CHAIRS.reduce<World>((world, n, index) => {
  const appointmentId = idOf<AppointmentId>(n)
  const booked = appointment(n, { dentistId: INSTRUCTOR.id, studentId: STUDENT.id, start: at(index) })
  const answer = {
    rule: 'word/not-proposed',
    about: 'plan:1',
    answer: 'proposed',
    by: STUDENT.id,
    at: at(5 * index),
  }
  return having(
    having(having(world, 'appointment', booked), 'plan', {
      ...plan(),
      id: idOf<PlanId>(n + 100),
      appointmentId,
    }),
    'isolationChoice',
    {
      clinicId: CLINIC,
      id: idOf<IsolationChoiceId>(n + 200),
      appointmentId,
      policy: null,
      anchors: [],
      sheetMaterial: null,
      alternative: null,
      answers: [answer],
      drawing: null,
    },
  )
}, bare)

const asked = { instructorId: INSTRUCTOR.id, day: DAY, now: at(30) }
const chairs = (world: World) =>
  signOffsFor(world, asked).map(({ appointmentId, wants }) => [appointmentId, wants])

test('case 90 the chairs that wait for a sign-off, the longest waiting first', () => {
  expect(chairs(proposed)).toEqual(CHAIRS.map((n) => [idOf(n), 'word']))
  expect(signOffsFor(proposed, { ...asked, instructorId: STUDENT.id })).toEqual([])
})

test('case 90 a chair whose numbness is about to pass goes before longer waiting', () => {
  const world = having(proposed, 'dose', {
    agent: 'mepivacaine',
    milliPercent: 3000,
    vasoconstrictor: 'none',
    ratio: null,
    cartridge: microlitres(1700),
    technique: 'infiltration',
    tooth: '46',
    side: 'right',
    tenthsOfCartridge: 10,
    clinicId: CLINIC,
    id: idOf<DoseId>(95),
    appointmentId: idOf<AppointmentId>(402),
    patientId: must(scene().patient[0], 'one').id,
    by: STUDENT.id,
    at: at(10),
  })
  expect(chairs(world)[0]).toEqual([idOf(402), 'word'])
})

test('case 90 once agreed to, the chair waits for the isolation check, and then for nothing', () => {
  const appointmentId = idOf<AppointmentId>(401)
  const agreed = having(proposed, 'word', { ...word({ at: at(0) }), appointmentId, by: INSTRUCTOR.id })
  expect(chairs(agreed).map(([id]) => id)).not.toContain(appointmentId)
  const clamped = { ...visit('clamped'), id: idOf<VisitId>(51), appointmentId }
  const waiting = having(agreed, 'visit', clamped)
  expect(chairs(waiting)).toContainEqual([appointmentId, 'isolation-check'])
  const timeOut = { teeth: [], planNumber: 1, by: INSTRUCTOR.id, at: at(20) }
  expect(chairs(having(waiting, 'visit', { ...clamped, timeOut })).map(([id]) => id)).not.toContain(
    appointmentId,
  )
})

test('case 90 another instructor on the way: earlier words stay with their names, the open ones wait for the new one', () => {
  const appointmentId = idOf<AppointmentId>(401)
  const other = { ...INSTRUCTOR, id: idOf<typeof INSTRUCTOR.id>(26), shortName: 'Prof. Vane' }
  const agreed = having(proposed, 'word', { ...word({ at: at(6) }), appointmentId, by: INSTRUCTOR.id })
  const booked = must(
    agreed.appointment.find(({ id }) => id === appointmentId),
    'booked',
  )
  const handed = having(having(agreed, 'member', other), 'appointment', { ...booked, dentistId: other.id })
  const lapsed = lapseCauses({ before: agreed, after: handed }, appointmentId, at(20))
  expect(lapsed).toContain('dentist-changed')
  const world = having(handed, 'word', {
    ...must(handed.word[0], 'given'),
    life: { kind: 'lapsed', at: at(20), why: 'dentist-changed' },
  })
  expect(signOffsFor(world, { ...asked, instructorId: other.id })).toMatchObject([
    { appointmentId, wants: 'word', since: at(5) },
  ])
  expect(chairs(world).map(([id]) => id)).not.toContain(appointmentId)
  expect(world.word.map(({ by }) => by)).toEqual([INSTRUCTOR.id])
})

test('case 90 several windows about to pass: the soonest first, then the rest by waiting time', () => {
  const dose = (n: number, minutes: number) => ({
    agent: 'mepivacaine' as const,
    milliPercent: 3000,
    vasoconstrictor: 'none' as const,
    ratio: null,
    cartridge: microlitres(1700),
    technique: 'infiltration' as const,
    tooth: '46' as const,
    side: 'right' as const,
    tenthsOfCartridge: 10,
    clinicId: CLINIC,
    id: idOf<DoseId>(n),
    appointmentId: idOf<AppointmentId>(n),
    patientId: must(scene().patient[0], 'one').id,
    by: STUDENT.id,
    at: at(minutes),
  })
  const world = having(having(proposed, 'dose', dose(402, 8)), 'dose', dose(401, 10))
  expect(chairs(world).map(([id]) => id)).toEqual([402, 401, 400].map((n) => idOf(n)))
})

import { describe, expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { applyChange } from '#shared/change.ts'
import type { Decision } from '#shared/command.ts'
import type { World } from '#shared/facts.ts'
import type { AppointmentId, IncidentId } from '#shared/ids.ts'
import type { Member } from '#shared/people/clinic.ts'
import { READINESS_COMMANDS } from '#shared/readiness/commands.ts'
import { findAppointment, indexDay } from '#shared/readiness/day-index.ts'
import { standingOf } from '#shared/readiness/word.ts'
import {
  AGREED,
  ASSISTANT,
  at,
  context,
  DENTIST,
  having,
  INSTRUCTOR,
  idOf,
  member,
  OTHER_DENTIST,
  plan,
  ROOM,
  STUDENT,
  scene,
  VISITED,
  visit,
  word,
  work,
} from './scene.ts'

type Kind = keyof typeof READINESS_COMMANDS
const asked = (world: World, kind: Kind, input: object, by: Member = DENTIST, now = at(-2)): Decision => {
  const { input: schema, decide } = READINESS_COMMANDS[kind]
  const parsed = schema.parse({ appointmentId: VISITED, ...input })
  return (decide as (world: World, input: unknown, context: unknown) => Decision)(
    world,
    parsed,
    context(by, now),
  )
}
const refusedBy = (decision: Decision): string[] =>
  decision.ok ? [] : decision.reasons.map((finding) => finding.rule)
const performed = (world: World, decision: Decision): World => {
  if (!decision.ok) throw new Error(`refused by ${refusedBy(decision)}`)
  return applyChange(world, decision.value.change)
}
const standing = (world: World, now = at(-2)) =>
  standingOf(must(findAppointment(indexDay(world), VISITED), 'held'), now).kind

describe('word.give', () => {
  test('the booked dentist’s word on the plan that stands is live, with who, when and where', () => {
    const world = performed(scene(), asked(scene(), 'word.give', { number: 1 }))
    expect(standing(world)).toBe('live')
    expect(world.word[0]).toMatchObject({ planNumber: 1, by: DENTIST.id, at: at(-2), station: 'test' })
  })

  test('[appointment/unknown] an appointment the clinic does not hold is refused', () => {
    const id = idOf<AppointmentId>(999)
    expect(refusedBy(asked(scene(), 'word.give', { appointmentId: id, number: 1 }))).toEqual([
      'appointment/unknown',
    ])
  })

  test('[word/no-plan] there is nothing to agree to without a plan, or where none is needed', () => {
    expect(refusedBy(asked({ ...scene(), plan: [] }, 'word.give', { number: 1 }))).toEqual(['word/no-plan'])
    const none = having(scene(), 'plan', plan({ ...AGREED, state: 'not-needed', sheets: [] }))
    expect(refusedBy(asked(none, 'word.give', { number: 1 }))).toEqual(['word/no-plan'])
  })

  test('[word/draft] a draft is closed to the word', () => {
    const draft = having(scene(), 'plan', plan({ ...AGREED, state: 'draft', open: ['mouth/not-charted'] }))
    expect(refusedBy(asked(draft, 'word.give', { number: 1 }))).toEqual(['word/draft'])
  })

  test('[word/stale-number] a word names the number that was read', () => {
    const newer = having(scene(), 'plan', plan(AGREED, 3))
    expect(refusedBy(asked(newer, 'word.give', { number: 2 }))).toEqual(['word/stale-number'])
    expect(asked(newer, 'word.give', { number: 3 }).ok).toBe(true)
  })

  test('[word/asks-open] the word is closed while a stop is open', () => {
    const stopped = performed(scene(), asked(scene(), 'stop.check-side', {}, ASSISTANT))
    expect(refusedBy(asked(stopped, 'word.give', { number: 1 }))).toEqual(['word/asks-open'])
  })

  test('[word/not-booked-dentist] another dentist’s word is not this one’s', () => {
    const decision = asked(scene(), 'word.give', { number: 1 }, OTHER_DENTIST)
    expect(refusedBy(decision)).toEqual(['word/not-booked-dentist'])
  })

  test('[word/already-given] a live word is not given twice', () => {
    const given = having(scene(), 'word', word())
    expect(refusedBy(asked(given, 'word.give', { number: 1 }))).toEqual(['word/already-given'])
  })

  test('after a lapse the same plan can be agreed to anew, and the old word is kept', () => {
    const lapsed = having(scene(), 'word', word({ life: { kind: 'lapsed', at: at(-9), why: 'stopped' } }))
    const world = performed(lapsed, asked(lapsed, 'word.give', { number: 1 }))
    expect(standing(world)).toBe('live')
    expect(world.word).toHaveLength(2)
  })
})

describe('a student under an instructor', () => {
  const taught = having(scene(), 'appointment', {
    ...must(scene().appointment[0], 'one'),
    dentistId: INSTRUCTOR.id,
    studentId: STUDENT.id,
  })

  test('[word/not-proposed] the student proposes before the instructor agrees', () => {
    expect(refusedBy(asked(taught, 'word.give', { number: 1 }, INSTRUCTOR))).toEqual(['word/not-proposed'])
    const proposed = performed(taught, asked(taught, 'word.propose', { number: 1 }, STUDENT))
    const world = performed(proposed, asked(proposed, 'word.give', { number: 1 }, INSTRUCTOR))
    expect(world.word[0]).toMatchObject({ by: INSTRUCTOR.id, proposedBy: STUDENT.id })
  })

  test('[word/not-proposed] a proposal of an older plan does not count', () => {
    const proposed = performed(taught, asked(taught, 'word.propose', { number: 1 }, STUDENT))
    const newer = having(proposed, 'plan', plan(AGREED, 2))
    expect(refusedBy(asked(newer, 'word.give', { number: 2 }, INSTRUCTOR))).toEqual(['word/not-proposed'])
    expect(refusedBy(asked(newer, 'word.propose', { number: 1 }, STUDENT))).toEqual(['word/stale-number'])
  })

  test('[word/not-booked-student] only the student of the appointment puts its plan, and it goes with the student', () => {
    const another = member(27, ['student'], 'T. Larch')
    for (const by of [INSTRUCTOR, another, DENTIST]) {
      expect(refusedBy(asked(taught, 'word.propose', { number: 1 }, by))).toEqual(['word/not-booked-student'])
    }
    expect(refusedBy(asked(scene(), 'word.propose', { number: 1 }, STUDENT))).toEqual([
      'word/not-booked-student',
    ])
    const proposed = performed(taught, asked(taught, 'word.propose', { number: 1 }, STUDENT))
    const handed = having(proposed, 'appointment', {
      ...must(proposed.appointment[0], 'one'),
      studentId: another.id,
    })
    expect(refusedBy(asked(handed, 'word.give', { number: 1 }, INSTRUCTOR))).toEqual(['word/not-proposed'])
  })

  test('[word/same-person] nobody agrees to their own proposal', () => {
    expect(refusedBy(asked(taught, 'word.give', { number: 1 }, STUDENT))).toEqual(['word/same-person'])
  })
})

describe('taking back and stopping', () => {
  test('[word/none-live] a live word is withdrawn once; without one there is nothing to withdraw', () => {
    const given = having(scene(), 'word', word())
    const world = performed(given, asked(given, 'word.withdraw', {}))
    expect(world.word[0]?.life).toEqual({ kind: 'lapsed', at: at(-2), why: 'withdrawn' })
    expect(refusedBy(asked(world, 'word.withdraw', {}))).toEqual(['word/none-live'])
  })

  test('[stop/already-open] anyone stops with one touch; a second touch changes nothing', () => {
    const stopped = performed(scene(), asked(scene(), 'stop.check-side', {}, ASSISTANT))
    expect(stopped.incident[0]).toMatchObject({ appointmentId: VISITED, operatoryId: ROOM })
    expect(refusedBy(asked(stopped, 'stop.check-side', {}, ASSISTANT))).toEqual(['stop/already-open'])
  })

  test('[stop/not-open] a stop is cleared by a dentist with what was found, and kept when it was nothing', () => {
    const stopped = performed(scene(), asked(scene(), 'stop.check-side', {}, ASSISTANT))
    const cleared = performed(stopped, asked(stopped, 'stop.clear', { outcome: 'nothing-wrong' }))
    expect(cleared.incident).toHaveLength(1)
    expect(cleared.incident[0]?.life).toMatchObject({ kind: 'closed', outcome: 'nothing-wrong' })
    expect(refusedBy(asked(cleared, 'stop.clear', { outcome: 'nothing-wrong' }))).toEqual(['stop/not-open'])
  })

  test.each([
    ['wrong-patient', null, null],
    ['wrong-side', 'kept', null],
    ['wrong-tooth', 'kept', null],
    ['nothing-wrong', 'kept', 'kept'],
  ])('a stop that found %s leaves identity %s and the read-back %s', (outcome, identity, readBack) => {
    const before = having(scene(), 'visit', {
      ...visit('seated'),
      identity: {
        identifiers: ['full-name', 'birth-day'],
        how: 'typed',
        of: null,
        by: ASSISTANT.id,
        at: at(-4),
      },
      readBack: { teeth: ['46'], planNumber: 1, by: DENTIST.id, at: at(-3) },
    })
    const stopped = performed(before, asked(before, 'stop.check-side', {}, ASSISTANT))
    const [after] = performed(stopped, asked(stopped, 'stop.clear', { outcome })).visit
    expect(after?.identity === null).toBe(identity === null)
    expect(after?.readBack === null).toBe(readBack === null)
  })
})

test('[time-out/instructor-checks] a student’s isolation is checked by the booked instructor before the start', () => {
  const taught = having(having(scene(), 'visit', visit('clamped')), 'appointment', {
    ...must(scene().appointment[0], 'one'),
    dentistId: INSTRUCTOR.id,
    studentId: STUDENT.id,
  })
  const said = { patientId: idOf(30), teeth: ['46'], number: 1 }
  expect(refusedBy(asked(taught, 'time-out.done', said, STUDENT))).toEqual(['time-out/instructor-checks'])
  expect(asked(taught, 'time-out.done', said, INSTRUCTOR).ok).toBe(true)
})

describe('counting and the time-out', () => {
  const said = { patientId: idOf(30), teeth: ['46'], number: 1 }
  const clamped = having(scene(), 'visit', visit('clamped'))

  test('[recount/not-due] teeth are counted in the chair before the dam, and through it once it is on', () => {
    const seated = having(scene(), 'visit', visit('seated'))
    expect(performed(seated, asked(seated, 'teeth.recount', { when: 'before' })).visit[0]?.recounted).toEqual(
      {
        before: at(-2),
        through: null,
        teeth: ['46'],
        by: DENTIST.id,
      },
    )
    expect(refusedBy(asked(seated, 'teeth.recount', { when: 'through' }))).toEqual(['recount/not-due'])
    expect(refusedBy(asked(scene(), 'teeth.recount', { when: 'before' }))).toEqual(['recount/not-due'])
  })

  test('[time-out/not-due] a time-out before the field stands is refused', () => {
    const seated = having(scene(), 'visit', visit('seated'))
    expect(refusedBy(asked(seated, 'time-out.done', said))).toEqual(['time-out/not-due'])
    expect(performed(clamped, asked(clamped, 'time-out.done', said)).visit[0]?.timeOut).toMatchObject({
      teeth: ['46'],
      planNumber: 1,
    })
  })

  test.each([
    ['patient', { ...said, patientId: idOf(33) }],
    ['teeth', { ...said, teeth: [] }],
    ['plan', { ...said, number: 2 }],
  ])('[time-out/differs] another %s than planned is refused, who before what', (what, input) => {
    const decision = asked(clamped, 'time-out.done', input)
    expect(decision.ok ? null : decision.reasons).toMatchObject([{ rule: 'time-out/differs', what }])
  })

  test('[time-out/differs] another tooth said aloud is kept: who it is is asked anew', () => {
    const after = performed(clamped, asked(clamped, 'time-out.done', { ...said, teeth: ['47'] }))
    expect(after.visit[0]).toMatchObject({ identity: null, readBack: null, timeOut: null })
  })
})

test('a stop of another appointment does not stop this one', () => {
  const other = having(scene(), 'incident', {
    clinicId: must(scene().clinic[0], 'one').id,
    id: idOf<IncidentId>(91),
    appointmentId: idOf<AppointmentId>(999),
    operatoryId: null,
    kind: 'stop-check-side',
    at: at(-3),
    by: ASSISTANT.id,
    drill: false,
    steps: [],
    life: { kind: 'open' },
  })
  expect(asked(other, 'word.give', { number: 1 }).ok).toBe(true)
  expect(having(other, 'work', work()).work).toHaveLength(1)
})

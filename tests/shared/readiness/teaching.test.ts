import { describe, expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { applyChange } from '#shared/change.ts'
import type { Decision } from '#shared/command.ts'
import type { World } from '#shared/facts.ts'
import type { AppointmentId, MemberId } from '#shared/ids.ts'
import type { Member } from '#shared/people/clinic.ts'
import { can } from '#shared/people/role.ts'
import { READINESS_COMMANDS } from '#shared/readiness/commands.ts'
import { findAppointment, indexDay } from '#shared/readiness/day-index.ts'
import { findDrawing, mustDrawFirst } from '#shared/readiness/teaching.ts'
import {
  AGREED,
  ASSISTANT,
  at,
  context,
  having,
  INSTRUCTOR,
  idOf,
  plan,
  STUDENT,
  scene,
  VISITED,
  work,
} from './scene.ts'

const asked = (
  world: World,
  kind: 'teaching.set' | 'drawing.keep' | 'word.propose',
  { input, by }: { input: object; by: Member },
): Decision => {
  const { input: schema, decide } = READINESS_COMMANDS[kind]
  return (decide as (world: World, input: unknown, context: unknown) => Decision)(
    world,
    schema.parse(input),
    context(by, at(-2)),
  )
}
const refusedBy = (decision: Decision): string[] =>
  decision.ok ? [] : decision.reasons.map((finding) => finding.rule)
const after = (world: World, decision: Decision): World => {
  if (!decision.ok) throw new Error(`refused by ${refusedBy(decision)}`)
  return applyChange(world, decision.value.change)
}
const seen = (world: World) => must(findAppointment(indexDay(world), VISITED), 'held')

const taught = having(
  having(scene(), 'appointment', {
    ...must(scene().appointment[0], 'one'),
    dentistId: INSTRUCTOR.id,
    studentId: STUDENT.id,
  }),
  'member',
  STUDENT,
)
const teaching = after(
  taught,
  asked(taught, 'teaching.set', { input: { memberId: STUDENT.id, drawsFirst: true }, by: INSTRUCTOR }),
)
const DRAWN = { appointmentId: VISITED, field: ['46'], clamped: ['46'], holes: [{ tooth: '46', size: 5 }] }
const drawn = after(teaching, asked(teaching, 'drawing.keep', { input: DRAWN, by: STUDENT }))
const propose = { appointmentId: VISITED, number: 1 }

describe('teaching', () => {
  test('case 90 only who signs off says that a student draws first', () => {
    expect(can(INSTRUCTOR.roles, READINESS_COMMANDS['teaching.set'].needs)).toBe(true)
    expect(can(STUDENT.roles, READINESS_COMMANDS['teaching.set'].needs)).toBe(false)
    const nobody = { input: { memberId: idOf<MemberId>(999), drawsFirst: true }, by: INSTRUCTOR }
    expect(refusedBy(asked(taught, 'teaching.set', nobody))).toEqual(['person/unknown'])
  })

  test('case 90 the plan is kept from the student alone, and only until they have drawn', () => {
    expect(mustDrawFirst(seen(taught), STUDENT.id)).toBe(false)
    expect(mustDrawFirst(seen(teaching), STUDENT.id)).toBe(true)
    expect(mustDrawFirst(seen(teaching), INSTRUCTOR.id)).toBe(false)
    expect(mustDrawFirst(seen(teaching), ASSISTANT.id)).toBe(false)
    expect(mustDrawFirst(seen(drawn), STUDENT.id)).toBe(false)
  })

  test('a drawing is kept with who, when and against which plan, and moves nothing of the plan', () => {
    expect(findDrawing(seen(drawn))).toMatchObject({
      field: ['46'],
      worked: ['46'],
      planNumber: 1,
      by: STUDENT.id,
      at: at(-2),
    })
    expect(drawn.plan).toEqual(teaching.plan)
  })

  test('[word/not-drawn] no plan is put to the instructor that was not drawn first', () => {
    expect(refusedBy(asked(teaching, 'word.propose', { input: propose, by: STUDENT }))).toEqual([
      'word/not-drawn',
    ])
    expect(refusedBy(asked(drawn, 'word.propose', { input: propose, by: STUDENT }))).toEqual([])
    expect(refusedBy(asked(taught, 'word.propose', { input: propose, by: STUDENT }))).toEqual([])
  })

  test('work on other teeth is drawn anew', () => {
    const moved = having(drawn, 'work', work({ teeth: ['47'] }))
    expect(findDrawing(seen(moved))).toBeNull()
    expect(mustDrawFirst(seen(moved), STUDENT.id)).toBe(true)
  })

  test('where no sheet is planned there is nothing to draw, and nothing is kept from anyone', () => {
    for (const state of ['not-needed', 'alternative', 'undetermined'] as const) {
      const without = having(teaching, 'plan', plan({ ...AGREED, state, sheets: [] }))
      expect(mustDrawFirst(seen(without), STUDENT.id)).toBe(false)
      expect(refusedBy(asked(without, 'drawing.keep', { input: DRAWN, by: STUDENT }))).toEqual([
        'drawing/no-plan',
      ])
    }
  })

  test('[drawing/not-yours] [drawing/no-plan] nobody draws for the student, nor on nothing', () => {
    expect(refusedBy(asked(teaching, 'drawing.keep', { input: DRAWN, by: INSTRUCTOR }))).toEqual([
      'drawing/not-yours',
    ])
    const unknown = { ...DRAWN, appointmentId: idOf<AppointmentId>(999) }
    expect(refusedBy(asked(teaching, 'drawing.keep', { input: unknown, by: STUDENT }))).toEqual([
      'appointment/unknown',
    ])
    const without = { ...teaching, plan: [] }
    expect(refusedBy(asked(without, 'drawing.keep', { input: DRAWN, by: STUDENT }))).toEqual([
      'drawing/no-plan',
    ])
  })
})

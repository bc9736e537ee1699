import { describe, expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import type { Day } from '#shared/base/moment.ts'
import { applyChange, putting } from '#shared/change.ts'
import { followThrough } from '#shared/consequences.ts'
import { decide } from '#shared/decide.ts'
import type { World } from '#shared/facts.ts'
import type { AppointmentId } from '#shared/ids.ts'
import type { Member } from '#shared/people/clinic.ts'
import { boardFor } from '#shared/readiness/board.ts'
import { indexDay } from '#shared/readiness/day-index.ts'
import { judgeAppointment } from '#shared/readiness/readiness.ts'
import {
  ASSISTANT,
  appointment,
  at,
  context,
  DAY,
  DENTIST,
  having,
  INSTRUCTOR,
  idOf,
  member,
  OTHER_DENTIST,
  SITE,
  STUDENT,
  scene,
  VISITED,
  visit,
  work,
} from '#tests/shared/readiness/scene.ts'

/** A world that lives: every fact put into it draws its consequences, every command is decided whole. */
let lastId = 20_000
const freshId = (): number => {
  lastId += 500
  return lastId
}
const put = (world: World, ...parameters: Parameters<typeof putting>): World =>
  applyChange(world, followThrough(world, putting(...parameters), context(ASSISTANT, at(-60), freshId())))
const asked = (world: World, command: { kind: string; input: object; by: Member; now?: number }) =>
  decide(world, command, context(command.by, at(command.now ?? -5), freshId()))
const done = (world: World, command: Parameters<typeof asked>[1]): World => {
  const decision = asked(world, command)
  if (!decision.ok) throw new Error(decision.reasons.map(({ rule }) => rule).join())
  return applyChange(world, decision.value.change)
}
const refusedBy = (world: World, command: Parameters<typeof asked>[1]): string[] => {
  const decision = asked(world, command)
  return decision.ok ? [] : decision.reasons.map(({ rule }) => rule)
}
const lineOf = (world: World, id: AppointmentId = VISITED) =>
  must(judgeAppointment(indexDay(world), id, at(-5)), 'held').line
const planNumber = (world: World): number => must(world.plan[0], 'one plan').number
const giving = (world: World, by = DENTIST) => ({
  kind: 'word.give',
  input: { appointmentId: VISITED, number: planNumber(world) },
  by,
})
/** The scene with the plan as the rules make it, and its tray checked. */
function planned(): World {
  const world = put({ ...scene(), plan: [], tray: [] }, 'work', work())
  const tray = must(world.tray[0], 'one tray')
  const life = { kind: 'checked' as const, by: ASSISTANT.id, at: at(-15), planNumber: 1 }
  return having(world, 'tray', { ...tray, life, done: tray.of, firstMissing: null })
}

describe('which tooth', () => {
  test('case 02 the dam on the neighbour: 41 does not start before the teeth are counted before the dam and through it', () => {
    const world = put({ ...scene(), plan: [], tray: [] }, 'work', work({ teeth: ['41'], text: 'RCT 41' }))
    const agreed = done(world, giving(world))
    const readBack = { teeth: ['41' as const], planNumber: 1, by: DENTIST.id, at: at(-6) }
    const clamped = having(
      agreed,
      'visit',
      visit('clamped', { readBack, clamp: { tiedBy: ASSISTANT.id, at: at(-7) } }),
    )
    const starting = { kind: 'visit.start', input: { appointmentId: VISITED }, by: DENTIST }
    expect(refusedBy(clamped, starting)).toContain('teeth/not-recounted')
    const counting = (when: string) => ({
      kind: 'teeth.recount',
      input: { appointmentId: VISITED, when, saw: null },
      by: ASSISTANT,
    })
    const before = having(agreed, 'visit', visit('injected', { readBack }))
    const counted = done(before, counting('before')).visit[0]?.recounted
    const again = done(
      having(clamped, 'visit', { ...must(clamped.visit[0], 'one'), recounted: counted ?? null }),
      counting('through'),
    )
    expect(again.visit[0]?.recounted).toMatchObject({ before: at(-5), through: at(-5), by: ASSISTANT.id })
    expect(refusedBy(again, starting)).not.toContain('teeth/not-recounted')
    expect(agreed.word[0]).toMatchObject({ by: DENTIST.id, at: at(-5), planNumber: 1 })
    expect(lineOf(again).work[0]?.teeth).toEqual(['41'])
  })

  test('case 15 late and flustered: the time-out is asked for just the same, 25 minutes behind', () => {
    const late = having(done(planned(), giving(planned())), 'visit', visit('clamped'))
    const line = must(judgeAppointment(indexDay(late), VISITED, at(25)), 'held')
    expect(line.open.map(({ rule }) => rule)).toEqual(
      expect.arrayContaining(['time-out/missing', 'teeth/not-recounted']),
    )
  })

  test('case 16 anyone says “wrong side”: hold on every screen, a fresh word, and the event is kept', () => {
    const agreed = done(planned(), giving(planned()))
    const seated = having(agreed, 'visit', visit('seated'))
    const stopping = { kind: 'stop.check-side', input: { appointmentId: VISITED }, by: ASSISTANT }
    const stopped = done(seated, stopping)
    expect(lineOf(stopped)).toMatchObject({ state: 'hold', missing: { rule: 'side/stopped' } })
    expect(boardFor(stopped, { siteId: SITE, day: DAY, now: at(-4) }).lanes[0]?.now?.state).toBe('hold')
    expect(stopped.word[0]?.life).toMatchObject({ kind: 'lapsed', why: 'stopped' })
    const clearing = {
      kind: 'stop.clear',
      input: { appointmentId: VISITED, outcome: 'nothing-wrong', note: '', saw: null },
      by: DENTIST,
    }
    expect(refusedBy(stopped, { ...clearing, by: ASSISTANT })).toEqual(['person/not-allowed'])
    const cleared = done(stopped, clearing)
    expect(cleared.incident).toHaveLength(1)
    expect(lineOf(cleared)).toMatchObject({ state: 'hold', missing: { rule: 'word/lapsed' } })
    expect(lineOf(done(cleared, giving(cleared))).state).not.toBe('hold')
  })
})

describe('the moving day', () => {
  test('case 70 the visit moves to another dentist: the first word lapses, only the new dentist’s counts', () => {
    const agreed = done(planned(), giving(planned()))
    const moved = put(agreed, 'appointment', appointment(10, { dentistId: OTHER_DENTIST.id }))
    expect(moved.word[0]?.life).toMatchObject({ kind: 'lapsed', why: 'dentist-changed' })
    expect(refusedBy(moved, giving(moved, DENTIST))).toEqual(['word/not-booked-dentist'])
    expect(done(moved, giving(moved, OTHER_DENTIST)).word).toHaveLength(2)
  })

  test('case 78 the dentist is away and five visits go to another: all five want the other’s word', () => {
    const ids = [0, 1, 2, 3, 4].map((n) => idOf<AppointmentId>(400 + n))
    const five = ids.reduce<World>(
      (world, id, index) => {
        const booked = put(
          world,
          'appointment',
          appointment(400 + index, { start: at(60 * (index + 1)), operatoryId: idOf(3) }),
        )
        const withWork = put(booked, 'work', work({ id: idOf(500 + index), appointmentId: id }))
        const { number } = must(
          withWork.plan.find((plan) => plan.appointmentId === id),
          'planned',
        )
        return done(withWork, { kind: 'word.give', input: { appointmentId: id, number }, by: DENTIST })
      },
      { ...scene(), appointment: [], work: [], plan: [], tray: [] },
    )
    expect(five.word.filter(({ life }) => life.kind === 'live')).toHaveLength(5)
    const moved = ids.reduce<World>(
      (world, _, index) =>
        put(world, 'appointment', {
          ...must(world.appointment[index], 'five'),
          dentistId: OTHER_DENTIST.id,
        }),
      five,
    )
    expect(moved.word.map(({ life }) => (life.kind === 'live' ? 'live' : life.why))).toEqual(
      Array(5).fill('dentist-changed'),
    )
    expect(ids.map((id) => lineOf(moved, id).next)).toEqual(Array(5).fill('dentist'))
  })

  test('another day lapses the word', () => {
    const agreed = done(planned(), giving(planned()))
    const moved = put(agreed, 'appointment', appointment(10, { day: '2026-11-26' as Day, start: at(2880) }))
    expect(moved.word[0]?.life).toMatchObject({ why: 'day-changed' })
  })
})

describe('screens and people', () => {
  test('case 86 one login for the room: the word cannot be given under an assistant’s badge, and names person and device', () => {
    const world = planned()
    expect(refusedBy(world, giving(world, ASSISTANT))).toEqual(['person/not-allowed'])
    const word = must(done(world, giving(world)).word[0], 'given')
    expect([word.by, word.station]).toEqual([DENTIST.id, 'test'])
  })

  test('case 90 a student plans, the instructor agrees to start, never the same person; another instructor’s word is asked anew', () => {
    const second = member(26, ['instructor'], 'Prof. Elm')
    const taught = put(
      { ...planned(), member: [...scene().member, second] },
      'appointment',
      appointment(10, { dentistId: INSTRUCTOR.id, studentId: STUDENT.id }),
    )
    expect(refusedBy(taught, giving(taught, INSTRUCTOR))).toEqual(['word/not-proposed'])
    const proposing = {
      kind: 'word.propose',
      input: { appointmentId: VISITED, number: planNumber(taught) },
      by: STUDENT,
    }
    const proposed = done(taught, proposing)
    expect(refusedBy(proposed, giving(proposed, STUDENT))).toEqual(['person/not-allowed'])
    const agreed = done(proposed, giving(proposed, INSTRUCTOR))
    expect(agreed.word[0]).toMatchObject({ by: INSTRUCTOR.id, proposedBy: STUDENT.id })
    const handed = put(
      agreed,
      'appointment',
      appointment(10, { dentistId: second.id, studentId: STUDENT.id }),
    )
    expect(handed.word[0]).toMatchObject({
      by: INSTRUCTOR.id,
      life: { kind: 'lapsed', why: 'dentist-changed' },
    })
    expect(done(handed, giving(handed, second)).word).toHaveLength(2)
  })
})

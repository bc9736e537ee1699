import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { defaultPolicySet } from '#shared/people/default-policy.ts'
import { judgeLate, type Slot, spreadDelay } from '#shared/schedule/delay.ts'
import { at } from './facts.ts'

const slot = (id: string, from: number, minutes: number, more: Partial<Slot> = {}): Slot => ({
  id,
  operatoryId: '1',
  personId: 'A',
  start: at(from),
  minutes,
  seated: null,
  left: null,
  ...more,
})
const expectedOf = (slots: Slot[], now: number, turnoverMinutes = 10): Record<string, number> =>
  Object.fromEntries(
    [...spreadDelay(slots, { now: at(now), turnoverMinutes })].map(([id, start]) => [
      id,
      (start - at(0)) / 60_000,
    ]),
  )

const anySlot = fc.record({
  from: fc.nat(300),
  minutes: fc.integer({ min: 1, max: 90 }),
  room: fc.nat(3),
  person: fc.option(fc.nat(3)),
  seatedAfter: fc.option(fc.nat(30)),
})
const anyDay = fc.array(anySlot, { maxLength: 12 }).map((rows) =>
  rows.map(({ from, minutes, room, person, seatedAfter }, index) =>
    slot(`${index}`, from, minutes, {
      operatoryId: `${room}`,
      personId: person === null ? null : `${person}`,
      seated: seatedAfter === null ? null : at(from + seatedAfter),
    }),
  ),
)

describe('expected starts', () => {
  test('on time, everything starts as booked', () => {
    expect(expectedOf([slot('a', 0, 30), slot('b', 60, 30)], -30)).toEqual({ a: 0, b: 60 })
  })

  // Practitioner case 76: end 10:00, next 10:00, turnover 10 → ready 10:10 (READ + arithmetic).
  test('the room must be turned over first', () => {
    expect(expectedOf([slot('a', 0, 30), slot('b', 30, 30, { personId: 'B' })], -5)).toEqual({ a: 0, b: 40 })
  })

  test('a dentist comes when the other chair lets them go, without a turnover', () => {
    expect(expectedOf([slot('a', 0, 30), slot('b', 20, 30, { operatoryId: '2' })], -5)).toEqual({
      a: 0,
      b: 30,
    })
  })

  test('who sits past their time holds up who comes next, minute by minute', () => {
    const day = [slot('a', 0, 30, { seated: at(5) }), slot('b', 45, 30)]
    expect(expectedOf(day, 10)).toEqual({ a: 5, b: 45 })
    expect(expectedOf(day, 50)).toEqual({ a: 5, b: 60 })
  })

  test('who has left holds up nobody; a gap swallows lateness', () => {
    expect(expectedOf([slot('a', 0, 60, { seated: at(0), left: at(20) }), slot('b', 20, 30)], 25)).toEqual({
      a: 0,
      b: 30,
    })
    expect(
      expectedOf([slot('a', 0, 30, { seated: at(20) }), slot('b', 60, 30), slot('c', 200, 30)], 20),
    ).toEqual({
      a: 20,
      b: 60,
      c: 200,
    })
  })

  test('law: spreading the result again adds nothing', () => {
    fc.assert(
      fc.property(anyDay, fc.nat(400), fc.nat(20), (day, now, turnoverMinutes) => {
        const pace = { now: at(now), turnoverMinutes }
        const once = spreadDelay(day, pace)
        const moved = day.map((each) => ({ ...each, start: once.get(each.id) ?? each.start }))
        expect(spreadDelay(moved, pace)).toEqual(once)
      }),
    )
  })

  test('law: nobody waiting starts before booked, before now, or while room or person is taken by one before', () => {
    fc.assert(
      fc.property(anyDay, fc.nat(400), (day, now) => {
        const starts = spreadDelay(day, { now: at(now), turnoverMinutes: 10 })
        const waiting = day.filter((each) => each.seated === null)
        for (const each of waiting) {
          const start = starts.get(each.id) ?? each.start
          expect(start).toBeGreaterThanOrEqual(Math.max(each.start, at(now)))
          for (const other of day) {
            if (other.id === each.id) continue
            const begins = starts.get(other.id) ?? other.start
            const ends = begins + other.minutes * 60_000
            const shares =
              other.operatoryId === each.operatoryId ||
              (each.personId !== null && other.personId === each.personId)
            if (shares && begins <= start)
              expect(start).toBeGreaterThanOrEqual(Math.min(ends, begins === start ? start : ends))
          }
        }
      }),
    )
  })
})

describe('running late', () => {
  const { schedule } = defaultPolicySet('c' as never, 'p' as never)
  const late = (minutes: number) => judgeLate({ id: 'a', start: at(0), expected: at(minutes) }, schedule)
  // Practitioner case 76: amber words at 5 minutes, the desk is prompted at 15 (READ).
  test('[day/running-late] says nothing below the amber limit, words from it on, a task for the desk from the prompt on', () => {
    expect(late(4)).toEqual([])
    expect(late(5)).toMatchObject([{ rule: 'day/running-late', level: 'note', minutes: 5, prompt: false }])
    expect(late(15)).toMatchObject([{ minutes: 15, prompt: true }])
  })
})

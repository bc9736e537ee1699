import { describe, expect, test } from 'vitest'
import { type Day, mondayOf } from '#shared/base/moment.ts'
import { countOverrides, type Settled } from '#shared/readiness/override-count.ts'
import { RULES } from '#shared/rules.ts'

const answeredBy = (rule: string): readonly string[] =>
  rule in RULES ? RULES[rule as keyof typeof RULES].answeredBy : []
const passed = (rule: string, appointmentId: string, day: string): Settled => ({
  kind: 'rule.override',
  rule,
  appointmentId,
  day: day as Day,
})
const answered = (kind: string, appointmentId: string, day: string): Settled => ({
  kind,
  rule: null,
  appointmentId,
  day: day as Day,
})
const HISTORY = 'history/not-confirmed'

describe('overrides per rule and week', () => {
  /** 24 November 2026 is a Tuesday (any calendar; COMMON). */
  test.each([
    ['2026-11-23', '2026-11-23'],
    ['2026-11-24', '2026-11-23'],
    ['2026-11-29', '2026-11-23'],
    ['2026-11-30', '2026-11-30'],
    ['2027-01-01', '2026-12-28'],
  ])('the week of %s begins on %s', (day, monday) => expect(mondayOf(day as Day)).toBe(monday))

  test('a rule passed over on two of three appointments is named, on one of two it is not', () => {
    const counts = countOverrides(
      [
        passed(HISTORY, 'a', '2026-11-24'),
        passed(HISTORY, 'b', '2026-11-25'),
        answered('history.confirm', 'c', '2026-11-25'),
        passed('teeth/not-recounted', 'a', '2026-11-24'),
        answered('teeth.recount', 'd', '2026-11-24'),
        answered('tray.claim', 'e', '2026-11-24'),
      ],
      answeredBy,
    )
    expect(counts).toEqual([
      { monday: '2026-11-23', rule: HISTORY, overridden: 2, answered: 1, often: true },
      { monday: '2026-11-23', rule: 'teeth/not-recounted', overridden: 1, answered: 1, often: false },
    ])
  })

  test('an appointment counts once, and weeks are kept apart, the latest first', () => {
    const counts = countOverrides(
      [
        passed(HISTORY, 'a', '2026-11-20'),
        passed(HISTORY, 'a', '2026-11-20'),
        answered('history.confirm', 'a', '2026-11-20'),
        passed(HISTORY, 'b', '2026-11-24'),
      ],
      answeredBy,
    )
    expect(counts.map(({ monday, overridden, answered }) => [monday, overridden, answered])).toEqual([
      ['2026-11-23', 1, 0],
      ['2026-11-16', 1, 0],
    ])
  })

  test('nothing passed over, nothing counted', () => {
    expect(countOverrides([answered('history.confirm', 'a', '2026-11-24')], answeredBy)).toEqual([])
  })
})

import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { hoursOf, readSpan, shiftOf } from '#app/day/roster/_parts/spans.ts'
import { type ClockTime, clockTimeAfter } from '#shared/base/moment.ts'

const MIDNIGHT = '00:00' as ClockTime
const at = (minutes: number): ClockTime => clockTimeAfter(MIDNIGHT, minutes)

/** Hours of a day that follow each other with something between. */
const hours = fc
  .uniqueArray(fc.integer({ min: 0, max: 1439 }), { minLength: 0, maxLength: 8 })
  .map((times) => times.sort((a, b) => a - b))
  .map((times) => times.slice(0, times.length - (times.length % 2)))
  .map((times) =>
    Array.from({ length: times.length / 2 }, (_, index) => ({
      from: at(times[2 * index] ?? 0),
      to: at(times[2 * index + 1] ?? 0),
    })),
  )

describe('a shift and its breaks', () => {
  test('law: taken apart and put together they are the hours again', () => {
    fc.assert(
      fc.property(hours, (those) => {
        expect(hoursOf(shiftOf(those))).toEqual(those)
      }),
      { numRuns: 1000 },
    )
  })
  test.each([
    ['a break that begins with the shift', { from: '08:00', to: '09:00' }],
    ['a break that ends with the shift', { from: '16:00', to: '17:00' }],
    ['a break without an end', { from: '12:00', to: '' }],
    ['a break that ends before it begins', { from: '13:00', to: '12:00' }],
    ['words', { from: 'noon', to: '13:00' }],
  ])('no hours: %s', (_, rest) => {
    expect(hoursOf({ shift: { from: '08:00', to: '17:00' }, breaks: [rest] })).toBeNull()
  })
  test('no hours: a break without a shift, and breaks the wrong way round', () => {
    const lunch = { from: '12:00', to: '13:00' }
    const tea = { from: '15:00', to: '15:15' }
    const blank = { from: '', to: '' }
    expect(hoursOf({ shift: blank, breaks: [lunch] })).toBeNull()
    expect(hoursOf({ shift: blank, breaks: [blank] })).toEqual([])
    const shift = { from: '08:00', to: '17:00' }
    expect(hoursOf({ shift, breaks: [tea, lunch] })).toBeNull()
    expect(hoursOf({ shift, breaks: [lunch, blank, tea] })).toHaveLength(3)
  })
  test('a span runs forwards', () => {
    expect(readSpan({ from: '08:00', to: '08:00' })).toBeNull()
    expect(readSpan({ from: ' 08:00', to: '08:01 ' })).toEqual({ from: '08:00', to: '08:01' })
  })
})

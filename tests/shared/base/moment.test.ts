import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { addMinutes, clockTimeAfter, clockTimeOf, instant, type Zone } from '#shared/base/moment.ts'

/** Zones whose clocks are never changed, of whole, half and quarter hours. */
const STEADY = ['UTC', 'Asia/Kolkata', 'Asia/Kathmandu', 'Africa/Nairobi', 'America/Phoenix'] as Zone[]

describe('clock times', () => {
  it('minutes counted on a clock agree with the calendar of a zone whose clocks are not changed', () => {
    const minute = fc.integer({ min: 0, max: 60 * 24 * 365 * 3 })
    const later = fc.integer({ min: -3_000, max: 3_000 })
    fc.assert(
      fc.property(minute, later, fc.constantFrom(...STEADY), (at, minutes, zone) => {
        const from = addMinutes(instant(Date.UTC(2026, 0, 1)), at)
        const until = clockTimeOf(addMinutes(from, minutes), zone)
        expect(clockTimeAfter(clockTimeOf(from, zone), minutes)).toBe(until)
      }),
    )
  })
})

import { describe, expect, it } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { parseClockTime, parseDay, type Zone } from '#shared/base/moment.ts'
import { calendarInstant, canonicalZone, isZone, localInstant } from '#shared/schedule/local-time.ts'

const day = (text: string) => must(parseDay(text), text)
const time = (text: string) => must(parseClockTime(text), text)
const iso = (result: ReturnType<typeof localInstant>) =>
  result.ok ? new Date(result.value).toISOString().slice(0, 16) : result.reasons[0]

describe('local time becomes an instant', () => {
  it.each([
    // RFC 5545 section 3.3.5, the two worked examples (READ): the first of two; the offset before the gap.
    ['America/New_York', '2007-11-04', '01:30', '2007-11-04T05:30', '2007-11-04T05:30'],
    ['America/New_York', '2007-03-11', '02:30', 'gap', '2007-03-11T07:30'],
    // Zone data, worked by hand (COMMON).
    ['Europe/London', '2026-10-19', '09:00', '2026-10-19T08:00', '2026-10-19T08:00'],
    ['Europe/London', '2026-10-26', '09:00', '2026-10-26T09:00', '2026-10-26T09:00'],
    ['Europe/Berlin', '2026-03-29', '02:30', 'gap', '2026-03-29T01:30'],
    ['Europe/Berlin', '2026-10-25', '02:30', '2026-10-25T00:30', '2026-10-25T00:30'],
    // Half an hour only: the clocks of Lord Howe move by thirty minutes.
    ['Australia/Lord_Howe', '2026-10-04', '02:15', 'gap', '2026-10-03T15:45'],
    ['Asia/Tokyo', '2026-11-24', '09:00', '2026-11-24T00:00', '2026-11-24T00:00'],
    // A whole day that never was: Samoa crossed the date line.
    ['Pacific/Apia', '2011-12-30', '09:00', 'gap', '2011-12-30T19:00'],
  ] as const)('%s %s %s is %s; in a calendar file %s', (zone, on, at, asked, calendar) => {
    expect(iso(localInstant(day(on), time(at), zone as Zone))).toBe(asked)
    expect(iso(calendarInstant(day(on), time(at), zone as Zone))).toBe(calendar)
  })

  it('a zone nobody knows is refused, never taken for UTC', () => {
    expect(localInstant(day('2026-11-24'), time('09:00'), 'Clinic Time' as Zone)).toEqual({
      ok: false,
      reasons: ['unknown-zone'],
    })
    expect(isZone('Clinic Time')).toBe(false)
    expect(isZone('+01:00')).toBe(false)
    expect(canonicalZone('europe/berlin')).toBe('Europe/Berlin')
  })
})

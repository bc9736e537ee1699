import { describe, expect, test } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { type ClockTime, type Day, parseDay, type Zone } from '#shared/base/moment.ts'
import { localInstant } from '#shared/schedule/local-time.ts'

/** Rules that changed lately, by the news of the IANA time zone database (MEMORY: release and offset). */
const CHANGED = [
  { zone: 'America/Mexico_City', day: '2023-07-03', offsetHours: -6, release: '2022f' },
  { zone: 'Asia/Amman', day: '2023-01-09', offsetHours: 3, release: '2022f' },
  { zone: 'Asia/Almaty', day: '2024-07-01', offsetHours: 5, release: '2024a' },
] as const

const instantAt = (day: string, zone: string): number => {
  const at = localInstant(must<Day>(parseDay(day), day), '09:00' as ClockTime, zone as Zone)
  if (!at.ok) throw new Error(`${day} 09:00 is no time in ${zone}`)
  return at.value
}

describe('the machine’s time zone rules', () => {
  test.each(CHANGED)(
    '$zone stands as since release $release: older ones move a day’s list by an hour',
    (row) => {
      expect(instantAt(row.day, row.zone)).toBe(
        Date.parse(`${row.day}T09:00:00Z`) - row.offsetHours * 3_600_000,
      )
    },
  )
  test('a zone that was renamed is known by both names', () => {
    expect(instantAt('2026-07-01', 'Europe/Kiev')).toBe(instantAt('2026-07-01', 'Europe/Kyiv'))
  })
})

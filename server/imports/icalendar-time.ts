import { Temporal } from 'temporal-polyfill'
import { type Day, type Instant, instant } from '#shared/base/moment.ts'
import type { Property } from './icalendar-lines.ts'
import { epochOf, type Wall } from './icalendar-rule.ts'
import { type Clock, clockOfZone, dayOf, wallOf, type Zones } from './icalendar-zones.ts'

/** A point of time as a calendar writes it. `kind` says which of the three kinds of time it is, or a whole day. */
export type CalendarTime =
  | { kind: 'day'; day: Day }
  | { kind: 'utc'; at: Instant }
  | { kind: 'zoned' | 'floating'; wall: Wall; clock: Clock; at: Instant }
  | { kind: 'unknown-zone'; tzid: string; wall: Wall }
  | { kind: 'unreadable'; text: string }

/** A value of DTSTART and its kind. */
export function parseTime(value: string, params: Property['params'], zones: Zones): CalendarTime {
  const text = value.trim()
  const day = dayOf(text)
  if (day) return { kind: 'day', day }
  const wall = wallOf(text)
  if (wall === null) return { kind: 'unreadable', text }
  if (text.endsWith('Z')) return { kind: 'utc', at: instant(epochOf(wall)) }
  const { TZID } = params
  const clock = TZID === undefined ? clockOfZone(zones.own) : zones.find(TZID)
  if (clock === null) return { kind: 'unknown-zone', tzid: TZID ?? '', wall }
  return { kind: TZID === undefined ? 'floating' : 'zoned', wall, clock, at: clock.toInstant(wall) }
}

/** `PT1H30M` and its kin, in milliseconds; null where it is none. */
export function parseDuration(text: string): number | null {
  try {
    return Temporal.Duration.from(text.trim()).total({
      unit: 'milliseconds',
      relativeTo: Temporal.PlainDate.from('2026-01-01'),
    })
  } catch {
    return null
  }
}

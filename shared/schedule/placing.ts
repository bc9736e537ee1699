import type { ClockTime, Day, Instant, Minutes } from '../base/moment.ts'
import { ok, type Result, refuse } from '../base/result.ts'
import { findFact, type World } from '../facts.ts'
import type { MemberId, OperatoryId } from '../ids.ts'
import { minutesOfClock } from '../people/clinic.ts'
import type { PeopleFinding } from '../people/findings.ts'
import { can } from '../people/role.ts'
import type { Appointment } from './appointment.ts'
import { findClashes, judgeAway } from './clashes.ts'
import type { ScheduleFinding } from './findings.ts'
import { localInstant } from './local-time.ts'

/** What the booking breaks is told with it; the desk decides. */
export const foundAt = (appointment: Appointment, world: World): ScheduleFinding[] => [
  ...findClashes(appointment, world.appointment),
  ...judgeAway(appointment, world.roster),
]

export type When = { day: Day; startsAt: ClockTime; minutes: Minutes }
export function planTime(
  when: When,
  zone: Appointment['zone'],
): Result<Pick<Appointment, 'day' | 'startsAt' | 'minutes' | 'zone' | 'start'>, ScheduleFinding> {
  const start = localInstant(when.day, when.startsAt, zone)
  const { day, startsAt, minutes } = when
  if (start.ok) return ok({ day, startsAt, minutes, zone, start: start.value })
  return refuse({ rule: 'time/does-not-exist', level: 'stop', about: `day:${day}`, day, time: startsAt })
}

/** From a clock time of a day to a later one, as instants. */
export function planSpan(
  day: Day,
  { from, to }: { from: ClockTime; to: ClockTime },
  zone: Appointment['zone'],
): Result<{ start: Instant; end: Instant }, ScheduleFinding> {
  const [start, end] = [localInstant(day, from, zone), localInstant(day, to, zone)]
  if (start.ok && end.ok && start.value < end.value && minutesOfClock(from) < minutesOfClock(to)) {
    return ok({ start: start.value, end: end.value })
  }
  return refuse({
    rule: 'time/does-not-exist',
    level: 'stop',
    about: `day:${day}`,
    day,
    time: `${from}–${to}`,
  })
}

interface Named {
  operatoryId?: OperatoryId | null | undefined
  dentistId?: MemberId | null | undefined
  studentId?: MemberId | null | undefined
}
/** Rooms and people that are not known, not active, or may not treat. */
export function findUnknown(world: World, { operatoryId, dentistId, studentId }: Named): PeopleFinding[] {
  const found: PeopleFinding[] = []
  if (operatoryId) found.push(...judgeRoom(world, operatoryId))
  for (const memberId of [dentistId, studentId]) {
    if (memberId) found.push(...judgeTreats(world, memberId))
  }
  return found
}

function judgeRoom(world: World, operatoryId: OperatoryId): PeopleFinding[] {
  const about = `operatory:${operatoryId}`
  const operatory = findFact(world, 'operatory', operatoryId)
  if (!operatory) return [{ rule: 'room/unknown', level: 'stop', about }]
  const { retiredAt, name } = operatory
  return (retiredAt ?? null) === null ? [] : [{ rule: 'room/retired', level: 'stop', about, name }]
}

function judgeTreats(world: World, memberId: MemberId): PeopleFinding[] {
  const about = `member:${memberId}`
  const member = findFact(world, 'member', memberId)
  if (!member) return [{ rule: 'person/unknown', level: 'stop', about }]
  if (!member.active) return [{ rule: 'person/inactive', level: 'stop', about, name: member.name }]
  if (can(member.roles, 'work:start')) return []
  return [{ rule: 'person/cannot-treat', level: 'stop', about, roles: member.roles }]
}

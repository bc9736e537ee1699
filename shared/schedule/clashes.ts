import { addMinutes, type Instant, instant } from '../base/moment.ts'
import type { MemberId } from '../ids.ts'
import type { Roster } from '../people/clinic.ts'
import { type Appointment, isOver } from './appointment.ts'
import type { ScheduleFinding } from './findings.ts'

export const endOf = (appointment: Appointment): Instant => addMinutes(appointment.start, appointment.minutes)

/** When both run: half-open, in real instants, so a clock change shifts nothing. Null where they only touch. */
export function overlapOf(one: Appointment, two: Appointment): { from: Instant; to: Instant } | null {
  const [first, second] = one.start <= two.start ? [one, two] : [two, one]
  const end = endOf(first)
  if (end <= second.start) return null
  const to = instant(Math.min(end, endOf(second)))
  return second.start < to ? { from: second.start, to } : null
}

const NOT_ON_THE_DAY = new Set<Appointment['status']>(['proposed', 'waitlist'])
const isOnTheDay = (appointment: Appointment): boolean =>
  !isOver(appointment.status) && !NOT_ON_THE_DAY.has(appointment.status)

/** Two students under one instructor share them; two patients of one dentist do not. */
const wantsDentist = (appointment: Appointment): MemberId | null =>
  appointment.studentId === null ? appointment.dentistId : null

const WANTED = [
  { rule: 'room/clash', of: (appointment: Appointment) => appointment.operatoryId },
  { rule: 'dentist/clash', of: wantsDentist },
  { rule: 'student/clash', of: (appointment: Appointment) => appointment.studentId },
  { rule: 'patient/clash', of: (appointment: Appointment) => appointment.patientId },
] as const

/** What this appointment wants at a time when another wants it too. `others` may hold anything, itself included. */
export function findClashes(appointment: Appointment, others: Iterable<Appointment>): ScheduleFinding[] {
  if (!isOnTheDay(appointment)) return []
  const found: ScheduleFinding[] = []
  for (const other of others) {
    if (other.id === appointment.id) continue
    const overlap = overlapOf(appointment, other)
    if (overlap === null || !isOnTheDay(other)) continue
    for (const { rule, of } of WANTED) {
      const wanted = of(appointment)
      if (wanted === null || wanted !== of(other)) continue
      found.push({
        rule,
        level: 'ask',
        about: `appointment:${appointment.id}`,
        other: other.id,
        ...overlap,
        wanted,
      })
    }
  }
  return found
}

/** Every clash of a day, told of both sides. */
export const judgeClashes = (appointments: readonly Appointment[]): ScheduleFinding[] =>
  appointments.flatMap((appointment) => findClashes(appointment, appointments))

/**
 * Whether the dentist is there at that time, by the roster. Who is marked away is away, whoever else is known to
 * work. Else, where nobody's hours are known for that day, nothing is said; where others' are and this person's are
 * not, they are not here.
 */
export function judgeAway(appointment: Appointment, rosters: readonly Roster[]): ScheduleFinding[] {
  const { dentistId, day } = appointment
  if (dentistId === null) return []
  const about = `appointment:${appointment.id}`
  const ofDay = rosters.filter((roster) => roster.day === day)
  if (ofDay.some((roster) => isAway(roster) && meets(roster, appointment))) {
    return [{ rule: 'dentist/marked-away', level: 'ask', about, day }]
  }
  const there = ofDay.filter((roster) => !isAway(roster))
  if (there.length === 0 || there.some((roster) => covers(roster, appointment))) return []
  return [{ rule: 'dentist/away', level: 'ask', about, day }]
}

export const isAway = ({ away }: Roster): boolean => (away ?? null) !== null

const isTheirs = (roster: Roster, { dentistId, siteId }: Appointment): boolean =>
  roster.memberId === dentistId && roster.siteId === siteId

const meets = (roster: Roster, appointment: Appointment): boolean =>
  isTheirs(roster, appointment) && roster.start < endOf(appointment) && appointment.start < roster.end

const covers = (roster: Roster, appointment: Appointment): boolean =>
  isTheirs(roster, appointment) && roster.start <= appointment.start && endOf(appointment) <= roster.end

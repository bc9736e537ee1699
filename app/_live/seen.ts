import type { Instant, Zone } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import type { AppointmentId, MemberId } from '#shared/ids.ts'
import { planFor } from '#shared/isolation/plan-for.ts'
import type { IsolationPlan } from '#shared/isolation/plan-types.ts'
import type { Member } from '#shared/people/clinic.ts'
import type { NameAlert } from '#shared/people/names.ts'
import { alertsFor } from '#shared/readiness/around.ts'
import {
  type AppointmentFacts,
  type DayIndex,
  findAppointment,
  indexDay,
} from '#shared/readiness/day-index.ts'
import { judgeAppointment, type Readiness } from '#shared/readiness/readiness.ts'
import { mustDrawFirst, putAwayLine, putAwayPlan, putAwayTray } from '#shared/readiness/teaching.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'
import type { TrayLine } from '#shared/trays/tray.ts'

/** One appointment as its page sees it: its facts, how it stands, its plan laid out, and who is looking. */
export interface Seen {
  facts: AppointmentFacts
  /** The world around it, as far as this page holds it. */
  day: DayIndex
  readiness: Readiness
  /** The plan with its coordinates, steps and sources; null where no isolation is in question, or a student draws first. */
  isolation: IsolationPlan | null
  trayLines: TrayLine[]
  /** Who looks learns here and draws first: what speaks of the plan is put away until then. */
  isPutAway: boolean
  member: Member
  notation: Notation
  zone: Zone
  now: Instant
  /** Who else of that day may be taken for this patient. */
  alike: NameAlert[]
  nameOf: (id: MemberId | null) => string
}

/** Null where the world no longer holds the appointment. */
export function seeAppointment(
  world: World,
  { appointmentId, member, now }: { appointmentId: AppointmentId; member: Member; now: Instant },
): Seen | null {
  const day = indexDay(world)
  const facts = findAppointment(day, appointmentId)
  const readiness = judgeAppointment(day, appointmentId, now)
  if (!facts || !readiness) return null
  const isPutAway = mustDrawFirst(facts, member.id)
  const trayLines = world.trayLine
    .filter((line) => line.trayId === facts.tray?.id)
    .sort((a, b) => a.position - b.position)
  return {
    facts: isPutAway ? { ...facts, tray: facts.tray && putAwayTray(facts.tray) } : facts,
    day,
    readiness: isPutAway ? putAwayPlan(readiness) : readiness,
    isolation: isPutAway ? null : planFor(world, appointmentId),
    trayLines: isPutAway ? trayLines.map((line) => ({ ...line, name: putAwayLine(line.name) })) : trayLines,
    isPutAway,
    member,
    notation: world.clinic[0]?.notation ?? 'ask',
    zone: facts.appointment.zone,
    now,
    alike: alertsFor(day, facts.appointment),
    nameOf: (id) => (id === null ? '' : (day.members.get(id)?.shortName ?? 'someone unknown')),
  }
}

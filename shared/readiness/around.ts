import { type Day, type Instant, instant } from '../base/moment.ts'
import type { Roster } from '../people/clinic.ts'
import type { NameAlert } from '../people/names.ts'
import type { Appointment } from '../schedule/appointment.ts'
import { hasReached } from '../schedule/appointment.ts'
import { type Slot, spreadDelay } from '../schedule/delay.ts'
import { alertsOfDay } from '../schedule/name-alert.ts'
import type { DayIndex } from './day-index.ts'

/** What is worked out once for a whole day, and kept as long as its index. */
interface Around {
  rosters: Map<Day, Roster[]>
  alerts: Map<string, ReadonlyMap<string, NameAlert[]>>
  expected: { now: Instant; starts: Map<Day, Map<string, Instant>> }
}
const NEVER = instant(-1)
const KEPT = new WeakMap<DayIndex, Around>()

function aroundOf(index: DayIndex): Around {
  const kept = KEPT.get(index) ?? {
    rosters: new Map(),
    alerts: new Map(),
    expected: { now: NEVER, starts: new Map() },
  }
  KEPT.set(index, kept)
  return kept
}

const standingOf = (index: DayIndex): Appointment[] => [...index.ofPatient.values()].flat()

/** Patients of this day who may be taken for this one. */
export function alertsFor(index: DayIndex, appointment: Appointment): NameAlert[] {
  const { alerts } = aroundOf(index)
  const key = `${appointment.siteId}/${appointment.day}`
  const ofDay = alerts.get(key) ?? alertsOfDay(index.world, appointment)
  alerts.set(key, ofDay)
  return ofDay.get(appointment.patientId) ?? NOBODY
}
const NOBODY: NameAlert[] = []

export function rostersOn(index: DayIndex, day: Day): Roster[] {
  const { rosters } = aroundOf(index)
  const known = rosters.get(day) ?? index.world.roster.filter((roster) => roster.day === day)
  rosters.set(day, known)
  return known
}

/** When this appointment can really start, as its own day stands now. */
export function expectedStartOf(index: DayIndex, appointment: Appointment, now: Instant): Instant {
  const around = aroundOf(index)
  if (around.expected.now !== now) around.expected = { now, starts: new Map() }
  const { starts } = around.expected
  const ofDay = starts.get(appointment.day) ?? spread(index, appointment.day, now)
  starts.set(appointment.day, ofDay)
  return ofDay.get(appointment.id) ?? appointment.start
}

const spread = (index: DayIndex, day: Day, now: Instant): Map<string, Instant> =>
  spreadDelay(
    standingOf(index)
      .filter((appointment) => appointment.day === day)
      .map((appointment) => slotOf(index, appointment)),
    { now, turnoverMinutes: index.policy?.schedule.turnoverMinutes ?? 0 },
  )

/** A student's instructor is shared between chairs; a dentist is in one at a time. */
function slotOf(index: DayIndex, appointment: Appointment): Slot {
  const visit = index.visits.get(appointment.id)
  const seated = visit && hasReached(visit.stage, 'seated')
  const at = (stage: 'seated' | 'left') => visit?.steps.findLast((step) => step.stage === stage)?.at ?? null
  return {
    id: appointment.id,
    operatoryId: appointment.operatoryId,
    personId: appointment.studentId ?? appointment.dentistId,
    start: appointment.start,
    minutes: appointment.minutes,
    seated: seated ? at('seated') : null,
    left: visit?.stage === 'left' ? at('left') : null,
  }
}

/** Appointments that may want the same room, person or patient: those near it, not the whole day. */
export const rivalsOf = (index: DayIndex, appointment: Appointment): Set<Appointment> =>
  new Set([
    ...(index.ofPatient.get(appointment.patientId) ?? []),
    ...(appointment.operatoryId ? (index.ofOperatory.get(appointment.operatoryId) ?? []) : []),
    ...(appointment.dentistId ? (index.ofDentist.get(appointment.dentistId) ?? []) : []),
    ...(appointment.studentId ? (index.ofStudent.get(appointment.studentId) ?? []) : []),
  ])

import { ageInYears, type Instant } from '../base/moment.ts'
import type { Finding } from '../finding.ts'
import type { AppointmentId } from '../ids.ts'
import { alertsFor, expectedStartOf } from './around.ts'
import type { BoardLine } from './board-types.ts'
import { type AppointmentFacts, type DayIndex, findAppointment } from './day-index.ts'
import { nextGate, stageOf } from './gates.ts'
import { judgeOpen } from './judges.ts'
import { findMissing, layPlanks, stateOf } from './planks.ts'

/** How one appointment stands for its next gate, with every finding that is open on it. */
export interface Readiness {
  line: BoardLine
  open: Finding[]
}

/** Judges one appointment of a day for a moment; null where the world does not hold it. */
export function judgeAppointment(day: DayIndex, id: AppointmentId, now: Instant): Readiness | null {
  const facts = findAppointment(day, id)
  if (!facts) return null
  const sight = { facts, day, now }
  const open = judgeOpen(sight)
  const planks = layPlanks(sight, open)
  const missing = findMissing(planks)
  const { appointment } = facts
  return {
    open,
    line: {
      appointmentId: appointment.id,
      operatoryId: appointment.operatoryId,
      start: appointment.start,
      expectedStart: expectedStartOf(day, appointment, now),
      minutes: appointment.minutes,
      stage: stageOf(facts),
      stageSince: facts.visit?.since ?? appointment.start,
      gate: nextGate(facts),
      state: stateOf(planks),
      planks,
      missing: missing?.finding ?? null,
      next: missing?.next ?? null,
      owner: missing?.owner ?? null,
      patient: patientOf(facts),
      dentistId: appointment.dentistId,
      work: facts.work.map(workOf),
      nameAlert: alertsFor(day, appointment).length > 0,
      allergyFlag: allergyFlagOf(facts),
    },
  }
}

const patientOf = ({ patient, appointment }: AppointmentFacts): BoardLine['patient'] =>
  patient && {
    name: `${patient.given.slice(0, 1)}. ${patient.family}`,
    age: ageInYears(patient.born, appointment.day),
  }

/** A tooth that is not settled is shown as it was asked, never as a tooth. */
const workOf = (work: AppointmentFacts['work'][number]): BoardLine['work'][number] => ({
  kind: work.kind,
  text: work.text,
  teeth: work.teeth,
  surfaces: work.surfaces,
  asked:
    work.teeth.length > 0
      ? null
      : (work.mentions.find((mention) => mention.candidates.length > 1)?.text ?? null),
})

function allergyFlagOf({ allergies }: AppointmentFacts): BoardLine['allergyFlag'] {
  if (allergies?.latex === 'confirmed' || allergies?.latex === 'suspected') return allergies.latex
  return allergies?.latex === 'none-known' ? 'none' : 'ask'
}

import { latexNow } from '../allergies/sight.ts'
import { ageInYears, type Instant } from '../base/moment.ts'
import type { Finding } from '../finding.ts'
import type { AppointmentId } from '../ids.ts'
import { alertsFor, expectedStartOf } from './around.ts'
import type { BoardLine } from './board-types.ts'
import { type AppointmentFacts, type DayIndex, findAppointment } from './day-index.ts'
import { nextGate, stageOf } from './gates.ts'
import { allergySightOf, judgeOpen, type Sight } from './judges.ts'
import { keeping } from './kept.ts'
import { findMissing, layPlanks, stateOf } from './planks.ts'

/** How one appointment stands for its next gate, with every finding that is open on it. */
export interface Readiness {
  line: BoardLine
  open: Finding[]
}

/** Judges one appointment of a day for a moment; null where the world does not hold it. Facts are never changed in place. */
export function judgeAppointment(day: DayIndex, id: AppointmentId, now: Instant): Readiness | null {
  const facts = findAppointment(day, id)
  return facts && judgeKept({ facts, day, now })
}

const judgeKept = keeping(judgeSight)

function judgeSight(sight: Sight): Readiness {
  const { facts, day, now } = sight
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
      formerDentist: appointment.formerDentist ?? null,
      work: facts.work.map(workOf),
      nameAlert: alertsFor(day, appointment).length > 0,
      allergyFlag: allergyFlagOf(sight),
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

/** What the board flags: an allergy to latex, or that it still has to be asked. */
function allergyFlagOf(sight: Sight): BoardLine['allergyFlag'] {
  const seen = allergySightOf(sight)
  const latex = seen === null ? 'not-asked' : latexNow(seen)
  if (latex === 'confirmed' || latex === 'suspected') return latex
  return latex === 'none-known' ? 'none' : 'ask'
}

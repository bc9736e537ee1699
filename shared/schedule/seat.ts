import { saysSedated } from '../anaesthesia/sedation.ts'
import { ageInYears, type Instant, minutesBetween } from '../base/moment.ts'
import type { IsolationChoice } from '../isolation/isolation-facts.ts'
import { childhoodOf } from '../people/child.ts'
import type { Roster } from '../people/clinic.ts'
import type { Patient } from '../people/patient.ts'
import type { PolicySet } from '../people/policy-set.ts'
import type { Work } from '../procedures/work.ts'
import type { Tooth } from '../teeth/tooth.ts'
import {
  type Appointment,
  hasReached,
  isOver,
  type PermittedWork,
  type Visit,
  type VisitStage,
} from './appointment.ts'
import { findClashes, judgeAway } from './clashes.ts'
import type { ScheduleFinding } from './findings.ts'
import { becameAnother, type Likeness, mustBeTyped, tellsApart } from './identity.ts'
import { addedAt, suggestedTime } from './squeezed-in.ts'

/** What the patient and room planks of one appointment are judged on. */
export interface SeatFacts {
  appointment: Appointment
  patient: Patient | null
  visit: Visit | null
  work: readonly Work[]
  policy: PolicySet | null
  choice: IsolationChoice | null
}

/** What else of the day bears on it. */
export interface Around {
  now: Instant
  /** Appointments that may want the same room, dentist, student or patient. */
  others: Iterable<Appointment>
  rosters: readonly Roster[]
  /** Whether another patient of the day may be taken for this one. */
  likeness: Likeness
}

export const visitStage = ({ appointment, visit }: Pick<SeatFacts, 'appointment' | 'visit'>): VisitStage => {
  if (visit) return visit.stage
  return appointment.status === 'arrived' || appointment.status === 'checked-in' ? 'arrived' : 'expected'
}

/** All that is open on the patient and room planks, from the booking to the needle. */
export function judgeSeat(facts: SeatFacts, around: Around): ScheduleFinding[] {
  if (isOver(facts.appointment.status)) return []
  const stage = visitStage(facts)
  return [
    ...(hasReached(stage, 'seated') ? [] : judgeBooking(facts, around)),
    ...judgeIdentity(facts, around.likeness),
    ...judgeCompanions(facts),
    ...judgeConsent(facts),
    ...judgeSedation(facts),
  ]
}

/** Whether the booking itself can be carried out. */
function judgeBooking(facts: SeatFacts, { now, others, rosters }: Around): ScheduleFinding[] {
  const { appointment } = facts
  const about = `appointment:${appointment.id}`
  const found: ScheduleFinding[] = []
  if (appointment.vanished) {
    found.push({ rule: 'appointment/vanished', level: 'ask', about, since: appointment.vanished.at })
  }
  if (appointment.status === 'pending') {
    const when = { added: addedAt(facts.choice, appointment), suggested: suggestedTime(facts.choice) }
    found.push({ rule: 'appointment/not-accepted', level: 'ask', about, start: appointment.start, ...when })
  }
  if (appointment.operatoryId === null) found.push({ rule: 'room/unnamed', level: 'ask', about })
  if (appointment.dentistId === null) found.push({ rule: 'dentist/unnamed', level: 'ask', about })
  return [
    ...found,
    ...findClashes(appointment, others),
    ...judgeAway(appointment, rosters),
    ...judgeArrival(facts, now),
    ...judgeInterpreter(facts),
  ]
}

/** Booked, expected, and not there: the desk asks where the patient is. */
function judgeArrival(facts: SeatFacts, now: Instant): ScheduleFinding[] {
  const { appointment, policy } = facts
  const minutes = minutesBetween(appointment.start, now)
  if (policy === null || visitStage(facts) !== 'expected' || minutes < policy.schedule.latePromptMinutes)
    return []
  return [{ rule: 'patient/not-arrived', level: 'ask', about: `appointment:${appointment.id}`, minutes }]
}

/** An interpreter is booked ahead: on the day it is too late to find one. */
function judgeInterpreter({ appointment, patient, visit, choice }: SeatFacts): ScheduleFinding[] {
  if (!patient?.interpreter || visitStage({ appointment, visit }) !== 'expected') return []
  if (findInterpreter(choice) !== null) return []
  const { language } = patient.interpreter
  return [{ rule: 'interpreter/not-booked', level: 'ask', about: `appointment:${appointment.id}`, language }]
}

/** Who will interpret, as last booked. */
export const findInterpreter = (choice: IsolationChoice | null): string | null =>
  choice?.answers.findLast(({ rule }) => rule === 'interpreter/not-booked')?.answer ?? null

/**
 * Who sits in the chair: known by two answers to an open question, typed or scanned where two patients of the
 * day are alike or an answer differed. Before the patient is seated nothing is missing yet, unless an answer
 * differed: `visit.seat` will not let it be left out.
 */
export function judgeIdentity(facts: SeatFacts, likeness: Likeness): ScheduleFinding[] {
  const stage = visitStage(facts)
  if (hasReached(stage, 'finished')) return []
  const fault = findIdentityFault(facts, likeness)
  return hasReached(stage, 'seated') ? fault : fault.filter(({ rule }) => rule === 'identity/differs')
}

/** What is wrong with who the patient is, whether seated or about to be. */
export function findIdentityFault(
  { appointment, patient, visit }: Pick<SeatFacts, 'appointment' | 'patient' | 'visit'>,
  likeness: Likeness,
): ScheduleFinding[] {
  const about = `appointment:${appointment.id}`
  const identity = visit?.identity ?? null
  const differed = visit?.identityDiffered ?? null
  if (identity === null) {
    if (differed === null || differed.settled !== null)
      return [{ rule: 'identity/missing', level: 'stop', about }]
    return differed.what.map((what) => ({ rule: 'identity/differs', level: 'stop', about, what }))
  }
  const other = identity.of && patient ? becameAnother(identity.of, patient) : []
  if (other.length > 0) return other.map((what) => ({ rule: 'identity/differs', level: 'stop', about, what }))
  const isAlike = likeness !== 'none'
  if (identity.how === 'asked' && mustBeTyped(visit, isAlike)) {
    return [{ rule: 'identity/not-typed', level: 'stop', about, why: isAlike ? 'alike' : 'differed' }]
  }
  if (likeness !== 'same' || tellsApart(identity, patient)) return []
  const hasNumber = (patient?.identifiers.length ?? 0) > 0
  return [{ rule: 'identity/not-apart', level: 'stop', about, hasNumber }]
}

/** Once the patient is there: who came with them. An answer from another visit does not count. */
function judgeCompanions(facts: SeatFacts): ScheduleFinding[] {
  const stage = visitStage(facts)
  if (stage === 'expected' || hasReached(stage, 'started')) return []
  const { appointment, patient, visit } = facts
  const about = `appointment:${appointment.id}`
  const found: ScheduleFinding[] = []
  const relation = carerOf(facts)
  if (relation === null && childhoodAt(facts) === 'unknown') {
    found.push({ rule: 'guardian/age-unknown', level: 'ask', about })
  }
  if (relation !== null && !isOfVisit(patient?.guardian?.present ?? null, visit)) {
    found.push({ rule: 'guardian/not-recorded', level: 'ask', about, relation })
  }
  if (patient?.interpreter && !isOfVisit(patient.interpreter.present, visit)) {
    const { language } = patient.interpreter
    found.push({ rule: 'interpreter/not-recorded', level: 'ask', about, language })
  }
  return found
}

const isOfVisit = (present: { at: Instant } | null, visit: Visit | null): boolean => {
  const arrived = visit?.steps.find((step) => step.stage === 'arrived' || step.stage === 'seated')
  return present !== null && arrived !== undefined && present.at >= arrived.at
}

/**
 * Permission covers exactly the procedures and teeth that are planned. Where someone else must give it, it has to be
 * recorded before the needle; recorded permission for other work re-opens the question for everyone.
 */
function judgeConsent(facts: SeatFacts): ScheduleFinding[] {
  const { appointment, visit } = facts
  const stage = visitStage(facts)
  const planned = permittedBy(facts.work)
  if (stage === 'expected' || hasReached(stage, 'started') || planned.length === 0) return []
  const about = `appointment:${appointment.id}`
  const consent = visit?.consent ?? null
  if (consent === null) {
    const relation = carerOf(facts)
    return relation === null ? [] : [{ rule: 'consent/missing', level: 'ask', about, relation }]
  }
  const consented = consent.work ?? null
  return isSameWork(consented, planned)
    ? []
    : [{ rule: 'consent/differs', level: 'ask', about, consented, planned }]
}

/** Whoever comes in comes to be looked at; what is not named yet is asked by its own rule. */
const NEEDS_NO_PERMISSION: ReadonlySet<string> = new Set(['exam', 'other', 'undetermined'])

/** What permission is asked for: the work on teeth, and what is named without a tooth but changes something. */
export const permittedBy = (work: readonly PermittedWork[]): PermittedWork[] =>
  work
    .filter(({ kind, teeth }) => teeth.length > 0 || !NEEDS_NO_PERMISSION.has(kind))
    .map(({ kind, teeth }) => ({ kind, teeth }))

/** Whether both are the same procedures on the same teeth, in whatever order. */
export function isSameWork(some: readonly PermittedWork[] | null, others: readonly PermittedWork[]): boolean {
  const [a, b] = [partsOf(some ?? []), partsOf(others)]
  return some !== null && a.size === b.size && [...a].every((part) => b.has(part))
}
const partsOf = (work: readonly PermittedWork[]): Set<string> =>
  new Set(
    work.flatMap(({ kind, teeth }) =>
      teeth.length === 0 ? [kind] : teeth.map((tooth) => `${kind} ${tooth}`),
    ),
  )

/** Who must come with this patient and permit: whom the record names, or anyone, for a child of whom it names nobody. */
export function carerOf({ patient, appointment }: Pick<SeatFacts, 'patient' | 'appointment'>): string | null {
  if (patient?.guardian) return patient.guardian.relation
  return childhoodAt({ patient, appointment }) === 'child' ? 'nobody on record yet' : null
}

const childhoodAt = ({ patient, appointment }: Pick<SeatFacts, 'patient' | 'appointment'>) =>
  childhoodOf(ageInYears(patient?.born ?? null, appointment.day))

/** A timer watches nobody: where sedation is booked, a person is named who does, and it is not who treats. */
function judgeSedation(facts: SeatFacts): ScheduleFinding[] {
  const { appointment, choice } = facts
  const stage = visitStage(facts)
  if (!isSedated(facts) || hasReached(stage, 'started') || findMonitor(choice) !== null) return []
  return [{ rule: MONITOR, level: 'ask', about: `appointment:${appointment.id}` }]
}

/** Whether sedation is booked, in the booking's own words. */
export const isSedated = ({ appointment, work }: Pick<SeatFacts, 'appointment' | 'work'>): boolean =>
  [appointment.note, ...work.map(({ text }) => text)].some(saysSedated)

const MONITOR = 'sedation/no-monitor'
/** Who watches the sedated patient, as last named. */
export const findMonitor = (choice: IsolationChoice | null): string | null =>
  choice?.answers.findLast(({ rule }) => rule === MONITOR)?.answer ?? null

export const isSameTeeth = (some: readonly Tooth[], others: readonly Tooth[]): boolean =>
  some.length === others.length && some.every((tooth) => others.includes(tooth))

/** Whether a tooth was said that is none of those planned: not one left out, another one. */
export const isAnother = (said: readonly Tooth[], planned: readonly Tooth[]): boolean =>
  said.some((tooth) => !planned.includes(tooth))

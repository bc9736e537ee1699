import { earliestEnd } from '../anaesthesia/window.ts'
import { type Day, type Instant, MINUTE } from '../base/moment.ts'
import type { World } from '../facts.ts'
import type { AppointmentId, MemberId, OperatoryId } from '../ids.ts'
import { type AppointmentFacts, findAppointment, indexDay } from './day-index.ts'
import { nextGate } from './gates.ts'
import { findProposal } from './giving.ts'
import { hasTimeOut, testedTeeth } from './judges.ts'
import { findLiveWord, isAgreeable } from './word.ts'

/** What an instructor is waited for: their word on a student's plan, then their look at the isolation. */
export interface SignOff {
  appointmentId: AppointmentId
  operatoryId: OperatoryId | null
  studentId: MemberId
  wants: 'word' | 'isolation-check'
  planNumber: number
  since: Instant
  /** When the shortest numbness window of what was given ends; null where nothing was. */
  numbUntil: Instant | null
}

/** A window that ends within these minutes goes before longer waiting (COMMON). */
const SOON_MINUTES = 10

/**
 * Chairs that wait for this instructor: first those whose numbness is about to pass, soonest first, then by how
 * long they have waited.
 */
export function signOffsFor(
  world: World,
  { instructorId, day, now }: { instructorId: MemberId; day: Day; now: Instant },
): SignOff[] {
  const index = indexDay(world)
  return (index.ofDentist.get(instructorId) ?? [])
    .filter((appointment) => appointment.day === day)
    .flatMap(({ id }) => findSignOff(findAppointment(index, id), now) ?? [])
    .sort((a, b) => urgency(a, now) - urgency(b, now) || a.since - b.since)
}

function findSignOff(facts: AppointmentFacts | null, now: Instant): SignOff | null {
  const studentId = facts?.appointment.studentId ?? null
  if (!facts || studentId === null || !facts.plan) return null
  const waits = findWait(facts, now)
  if (waits === null) return null
  const { id: appointmentId, operatoryId } = facts.appointment
  const planNumber = facts.plan.number
  return { appointmentId, operatoryId, studentId, planNumber, ...waits, numbUntil: numbUntilOf(facts) }
}

function findWait(facts: AppointmentFacts, now: Instant): Pick<SignOff, 'wants' | 'since'> | null {
  const { plan, visit } = facts
  const proposal = findProposal(facts)
  const isOpen = plan !== null && isAgreeable(plan.agreed.state) && findLiveWord(facts, now) === null
  if (isOpen) return proposal && { wants: 'word', since: proposal.at }
  if (visit === null || visit.stage === 'arrived' || nextGate(facts) !== 'start' || hasTimeOut(facts))
    return null
  return { wants: 'isolation-check', since: visit.since }
}

const numbUntilOf = (facts: AppointmentFacts): Instant | null =>
  earliestEnd({
    doses: facts.doses,
    pulpal: testedTeeth(facts),
    recheckMinutes: facts.policy?.anaesthesia.recheckMinutes ?? 0,
  })

const urgency = ({ numbUntil }: SignOff, now: Instant): number =>
  numbUntil !== null && numbUntil - now <= SOON_MINUTES * MINUTE ? numbUntil : Number.MAX_SAFE_INTEGER

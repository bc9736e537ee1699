import type { Instant } from '../base/moment.ts'
import { GATES, type Gate } from '../base/rule.ts'
import type { World } from '../facts.ts'
import type { Finding } from '../finding.ts'
import type { AppointmentId } from '../ids.ts'
import { type AppointmentFacts, type DayIndex, findAppointment, indexDay } from './day-index.ts'
import { judgeOpen } from './judges.ts'
import { gateOf } from './planks.ts'

/**
 * What keeps a gate shut now: every stop, and every ask whose gate is this one or lies before it. Empty: it opens.
 * Steps of the visit count as asks here; an appointment the world does not hold opens nothing.
 */
export function judgeGate(
  world: World,
  { appointmentId, gate, now }: { appointmentId: AppointmentId; gate: Gate; now: Instant },
): Finding[] {
  return judgeGateOf(indexDay(world), { appointmentId, gate, now })
}

export function judgeGateOf(
  day: DayIndex,
  { appointmentId, gate, now }: { appointmentId: AppointmentId; gate: Gate; now: Instant },
): Finding[] {
  const facts = findAppointment(day, appointmentId)
  if (!facts) {
    const about = `appointment:${appointmentId}`
    return [{ rule: 'appointment/unknown', level: 'stop', about, id: appointmentId }]
  }
  return shutBy(judgeOpen({ facts, day, now }), { facts, gate })
}

/** Nobody gets up with something left in the mouth, nor while help is called. */
const KEEPS_IN_CHAIR: ReadonlySet<Finding['rule']> = new Set(['counts/not-done', 'help/open'])
/** Nor goes home numb without being told what that means. */
const KEEPS_HERE: ReadonlySet<Finding['rule']> = new Set([...KEEPS_IN_CHAIR, 'aftercare/not-given'])

/** What keeps this patient in the chair, or here, whatever becomes of the visit. Empty: they may go. */
export const judgeGoing = (
  world: World,
  { from, ...at }: { appointmentId: AppointmentId; now: Instant; from: 'chair' | 'here' },
): Finding[] => keepingOf(judgeGate(world, { ...at, gate: 'leave' }), from)

/** Of what stands open, all that keeps the patient in the chair, or here. */
export const keepingOf = (open: readonly Finding[], from: 'chair' | 'here'): Finding[] =>
  open.filter(({ rule }) => (from === 'chair' ? KEEPS_IN_CHAIR : KEEPS_HERE).has(rule))

/** Of what stands open, all that keeps this gate shut. */
export const shutBy = (
  open: readonly Finding[],
  { facts, gate }: { facts: AppointmentFacts; gate: Gate },
): Finding[] =>
  open.filter((finding) => {
    if (finding.level === 'note') return false
    const due = gateOf(finding, facts)
    if (due === null) return finding.level === 'stop'
    return GATES.indexOf(due) <= GATES.indexOf(gate)
  })

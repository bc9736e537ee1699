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

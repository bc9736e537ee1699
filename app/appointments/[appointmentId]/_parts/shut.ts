import { newId } from '#app/_live/new-id.ts'
import type { Seen } from '#app/_live/seen.ts'
import type { Dose, PlannedDose } from '#shared/anaesthesia/anaesthetic.ts'
import { judgeLabelAnswered } from '#shared/anaesthesia/cartridge.ts'
import { judgeSolution } from '#shared/anaesthesia/judge-dose.ts'
import type { Gate } from '#shared/base/rule.ts'
import type { Finding } from '#shared/finding.ts'
import type { DoseId } from '#shared/ids.ts'
import { judgeWho } from '#shared/isolation/process.ts'
import { shutBy } from '#shared/readiness/gate.ts'
import { isStudentsOwnCheck, judgeWordGiving } from '#shared/readiness/giving.ts'
import { doseSightOf, labelSightOf } from '#shared/readiness/judges.ts'
import { judgeNeedle } from '#shared/readiness/needle.ts'
import { likenessOf } from '#shared/schedule/identity.ts'
import { findIdentityFault } from '#shared/schedule/seat.ts'
import { tasksLeft } from '#shared/schedule/visit.ts'

/** What keeps a gate shut, as this page holds it; the server has the last word. */
export const shutAt = ({ readiness, facts }: Seen, gate: Gate): Finding[] =>
  shutBy(readiness.open, { facts, gate })

/** The same before the needle, as it would stand with this dose in; of the labels, that of what is to be given counts. */
export function shutToNeedle(seen: Seen, given: PlannedDose): Finding[] {
  const shut = shutWith(seen, given).filter(({ rule }) => rule !== 'cartridge/not-read-back')
  const against = judgeSolution(given, doseSightOf(seen.facts))
  return given.technique === 'topical' || against.length > 0
    ? [...shut, ...against]
    : [...shut, ...judgeLabelAnswered(labelSightOf(seen.facts), given)]
}

function shutWith(seen: Seen, given: PlannedDose): Finding[] {
  const { facts, day, now, member, isPutAway } = seen
  if (isPutAway) return shutAt(seen, 'inject')
  const { clinicId, id: appointmentId, patientId } = facts.appointment
  const dose: Dose = {
    ...given,
    clinicId,
    id: newId<DoseId>(),
    appointmentId,
    patientId,
    by: member.id,
    at: now,
  }
  const asGiven = { ...facts, given: [...facts.given, dose], doses: [...facts.doses, dose] }
  return judgeNeedle({ facts: asGiven, day, now }, given)
}

/** The same before the chair, with who it is and the room. */
export function shutAtSeat(seen: Seen): Finding[] {
  const { facts, alike } = seen
  const fault = findIdentityFault(facts, likenessOf(facts.patient, alike))
  const known = new Set<string>(fault.map(({ rule }) => rule))
  return [...fault, ...shutAt(seen, 'seat').filter(({ rule }) => !known.has(rule)), ...roomOf(seen)]
}

function roomOf({ facts: { appointment, occupancy, operatory } }: Seen): Finding[] {
  const about = `appointment:${appointment.id}`
  if (operatory === null || occupancy?.life.kind === 'clear') return []
  if (occupancy?.life.kind === 'occupied') {
    return [{ rule: 'room/occupied', level: 'stop', about, by: occupancy.life.appointmentId }]
  }
  const left = tasksLeft(occupancy?.life.kind === 'turning-over' ? occupancy.life.done : [])
  return [{ rule: 'room/not-turned-over', level: 'stop', about, left }]
}

/** Why the one who looks may not give their word on this plan now. */
export const shutToWord = ({ facts, day, now, member }: Seen): Finding[] =>
  judgeWordGiving({ facts, day, now }, { number: facts.plan?.number ?? 0, by: member })

/** Whether the one who looks may place a sheet here. */
export const shutToPlacer = ({ facts: { appointment }, day, member }: Seen): Finding[] =>
  judgeWho(
    { appointmentId: appointment.id, appointment, site: day.sites.get(appointment.siteId) ?? null },
    member,
  )

/** A student's isolation is checked by another. */
export const shutToStudent = ({ facts, member }: Seen): Finding[] =>
  isStudentsOwnCheck(facts, member)
    ? [
        {
          rule: 'time-out/instructor-checks',
          level: 'stop',
          about: `appointment:${facts.appointment.id}`,
        },
      ]
    : []

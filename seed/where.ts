import { must } from '#shared/base/assert.ts'
import { type AppointmentFacts, findAppointment, indexDay } from '#shared/readiness/day-index.ts'
import { stageOf } from '#shared/readiness/gates.ts'
import { isOver, type VisitStage } from '#shared/schedule/appointment.ts'
import type { Booking } from './day.ts'
import { type Ask, appointmentOf, type Telling } from './telling.ts'

/** An act of the usual day on one booking. */
export type Act = (telling: Telling, booking: Booking) => Ask[]

export const factsOf = (telling: Telling, { key }: Booking): AppointmentFacts =>
  must(findAppointment(indexDay(telling.world), appointmentOf(telling, key).id), `${key} is booked`)

/** An act that is only done where it is needed, and never on an appointment that is over. */
export const where =
  (
    isNeeded: (facts: AppointmentFacts) => boolean,
    asks: (facts: AppointmentFacts, telling: Telling) => Ask[],
  ): Act =>
  (telling, booking) => {
    const facts = factsOf(telling, booking)
    return isOver(facts.appointment.status) || !isNeeded(facts) ? [] : asks(facts, telling)
  }

/** One command that names the appointment and no more than is said. */
export const ofIt =
  (kind: string, more: object = {}) =>
  (facts: AppointmentFacts): Ask[] => [{ kind, input: { appointmentId: facts.appointment.id, ...more } }]

export const isAt =
  (...stages: VisitStage[]) =>
  (facts: AppointmentFacts): boolean =>
    stages.includes(stageOf(facts))
export const inChair = isAt('seated', 'injected', 'clamped', 'started', 'finished')

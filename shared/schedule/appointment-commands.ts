import { z } from 'zod'
import type { ClockTime, Instant } from '../base/moment.ts'
import { ok, type Result, refuse } from '../base/result.ts'
import { type Change, joinChanges, putting } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { Finding } from '../finding.ts'
import type { AppointmentId, MemberId, OperatoryId } from '../ids.ts'
import { clockTime, day, id, saw } from '../inputs.ts'
import type { IsolationChoice } from '../isolation/isolation-facts.ts'
import { withAnswer } from '../readiness/answer.ts'
import { judgeGoing } from '../readiness/gate.ts'
import { judgeShown, shownPlace } from '../readiness/shown.ts'
import { type Appointment, isOver, type Visit } from './appointment.ts'
import { withDentist } from './former-dentist.ts'
import { findUnknown, foundAt, planTime } from './placing.ts'
import { visitStage } from './seat.ts'
import { makeSuggested, suggestedTime } from './squeezed-in.ts'
import { makeVisit, reach } from './visit.ts'

const minutes = z.int().min(5).max(600)
const words = z.string().trim().min(1).max(500)
const appointmentId = id<AppointmentId>()
const theAppointment = z.object({ appointmentId })
const ofAppointment = (input: { appointmentId: AppointmentId }) => ({ appointments: [input.appointmentId] })

const STATUSES_BY_HAND = ['proposed', 'pending', 'booked', 'waitlist', 'entered-in-error'] as const
const changing = theAppointment.extend({
  day: day.optional(),
  startsAt: clockTime.optional(),
  minutes: minutes.optional(),
  operatoryId: id<OperatoryId>().nullable().optional(),
  dentistId: id<MemberId>().nullable().optional(),
  studentId: id<MemberId>().nullable().optional(),
  status: z.enum(STATUSES_BY_HAND).optional(),
  note: z.string().max(2000).optional(),
})
type Changing = z.infer<typeof changing>

/** From the chair on, the place and the hour are facts; who treats may still change. */
const FIXED_IN_CHAIR = ['day', 'startsAt', 'operatoryId', 'status'] as const

function decideChange(world: World, input: Changing, { by, now }: CommandContext): Decision {
  const found = findStanding(world, input.appointmentId)
  if (!found.ok) return found
  const { appointment, visit } = found.value
  const stage = visitStage({ appointment, visit })
  const about = `appointment:${appointment.id}`
  if (isInChair(stage) && FIXED_IN_CHAIR.some((key) => input[key] !== undefined)) {
    return refuse({ rule: 'appointment/under-way', level: 'stop', about, stage })
  }
  const kept = judgeKept(world, { appointment, input, now })
  if (kept.length > 0) return refuse(...kept)
  const unknown = findUnknown(world, input)
  if (unknown.length > 0) return refuse(...unknown)
  const when = planTime(
    {
      day: input.day ?? appointment.day,
      startsAt: input.startsAt ?? appointment.startsAt,
      minutes: input.minutes ?? appointment.minutes,
    },
    appointment.zone,
  )
  if (!when.ok) return when
  const choice = world.isolationChoice.find((each) => each.appointmentId === appointment.id) ?? null
  const changed: Appointment = {
    ...appointment,
    ...when.value,
    operatoryId: input.operatoryId === undefined ? appointment.operatoryId : input.operatoryId,
    ...withDentist(appointment, input.dentistId === undefined ? appointment.dentistId : input.dentistId, {
      why: 'by-hand',
      by: by.id,
      at: now,
    }),
    studentId: input.studentId === undefined ? appointment.studentId : input.studentId,
    status: input.status ?? statusAfter(appointment, { startsAt: when.value.startsAt, choice, stage }),
    note: input.note ?? appointment.note,
  }
  return ok({ change: putting('appointment', changed), findings: foundAt(changed, world) })
}

/** Nobody is sent away while help is called, or numb and not told: to another day, another chair, or struck off. */
function judgeKept(
  world: World,
  { appointment, input, now }: { appointment: Appointment; input: Changing; now: Instant },
): Finding[] {
  const kept = judgeGoing(world, { appointmentId: appointment.id, now, from: 'here' })
  const goes = (input.day ?? appointment.day) !== appointment.day || input.status !== undefined
  if (goes) return kept
  const moves = input.operatoryId !== undefined && input.operatoryId !== appointment.operatoryId
  return moves ? kept.filter(({ rule }) => rule === 'help/open') : []
}

/** Moved to just the time that the chair team suggested, it is accepted: they have said yes to that. */
function statusAfter(
  appointment: Appointment,
  { startsAt, choice, stage }: { startsAt: ClockTime; choice: IsolationChoice | null; stage: Visit['stage'] },
): Appointment['status'] {
  if (appointment.status !== 'pending' || suggestedTime(choice) !== startsAt) return appointment.status
  return stage === 'expected' ? 'booked' : 'arrived'
}

const isInChair = (stage: Visit['stage']): boolean => stage !== 'expected' && stage !== 'arrived'

/** An appointment that is not over, with its visit. */
function findStanding(
  world: World,
  id: AppointmentId,
): Result<{ appointment: Appointment; visit: Visit | null }, Finding> {
  const about = `appointment:${id}`
  const appointment = findFact(world, 'appointment', id)
  if (!appointment) return refuse({ rule: 'appointment/unknown', level: 'stop', about, id })
  const { status } = appointment
  if (isOver(status)) return refuse({ rule: 'appointment/over', level: 'stop', about, status })
  return ok({ appointment, visit: world.visit.find((visit) => visit.appointmentId === id) ?? null })
}

/** Ends an appointment whose patient is not in the chair. What was kept for it goes back in what follows. */
function decideEnd(world: World, id: AppointmentId, { status: end, now }: Ending): Decision {
  const found = findStanding(world, id)
  if (!found.ok) return found
  const { appointment, visit } = found.value
  const stage = visitStage({ appointment, visit })
  const about = `appointment:${id}`
  if (isInChair(stage)) return refuse({ rule: 'appointment/under-way', level: 'stop', about, stage })
  if (end === 'noshow' && stage !== 'expected') {
    return refuse({ rule: 'visit/wrong-stage', level: 'stop', about, stage, needs: ['expected'] })
  }
  const kept = judgeGoing(world, { appointmentId: id, now, from: 'here' })
  if (kept.length > 0) return refuse(...kept)
  return ok({ change: putting('appointment', { ...appointment, status: end }), findings: [] })
}
interface Ending {
  status: 'cancelled' | 'noshow'
  now: Instant
}

function decideArrive(world: World, id: AppointmentId, context: CommandContext): Decision {
  const found = findStanding(world, id)
  if (!found.ok) return found
  const { appointment, visit } = found.value
  const stage = visitStage({ appointment, visit })
  if (stage !== 'expected') {
    const about = `appointment:${id}`
    return refuse({ rule: 'visit/wrong-stage', level: 'stop', about, stage, needs: ['expected'] })
  }
  // An emergency that is not yet accepted stays so: that its patient is here accepts nothing.
  const status = appointment.status === 'pending' ? 'pending' : 'arrived'
  return ok({
    change: joinChanges(
      putting('appointment', { ...appointment, status }),
      putting('visit', arrivedVisit(id, visit, context)),
    ),
    findings: [],
  })
}

function arrivedVisit(appointmentId: AppointmentId, visit: Visit | null, context: CommandContext): Visit {
  const fresh = visit ?? makeVisit(appointmentId, context)
  return reach(fresh, 'arrived', context)
}

const decideOn =
  (decide: (appointment: Appointment) => Result<Change, Finding>) =>
  (world: World, input: { appointmentId: AppointmentId }): Decision => {
    const found = findStanding(world, input.appointmentId)
    if (!found.ok) return found
    const decided = decide(found.value.appointment)
    return decided.ok ? ok({ change: decided.value, findings: [] }) : decided
  }

export const APPOINTMENT_COMMANDS = {
  'appointment.change': commandRule({
    kind: 'appointment.change',
    needs: 'day:change',
    input: changing,
    reach: (input) => ({
      appointments: [input.appointmentId],
      daysOf: [input.appointmentId],
      days: input.day === undefined ? [] : [input.day],
    }),
    decide: decideChange,
  }),
  'appointment.accept': commandRule({
    kind: 'appointment.accept',
    needs: 'patient:identify',
    input: theAppointment.extend({ saw }),
    reach: ofAppointment,
    decide: (world, input) =>
      decideOn((appointment) => {
        const about = `appointment:${appointment.id}`
        if (appointment.status !== 'pending') {
          return refuse({ rule: 'appointment/accepted-already', level: 'stop', about })
        }
        const moved = judgeShown(input.saw, { stands: shownPlace(appointment), what: 'place', about })
        if (moved.length > 0) return refuse(...moved)
        const here = world.visit.some(
          (visit) => visit.appointmentId === appointment.id && visit.stage !== 'expected',
        )
        return ok(putting('appointment', { ...appointment, status: here ? 'arrived' : 'booked' }))
      })(world, input),
  }),
  /** The chair team would rather have it at another time; the desk moves it there, and with that it is accepted. */
  'appointment.suggest-time': commandRule({
    kind: 'appointment.suggest-time',
    needs: 'patient:identify',
    input: theAppointment.extend({ startsAt: clockTime }),
    reach: ofAppointment,
    decide: (world, { appointmentId, startsAt }, context) => {
      const found = findStanding(world, appointmentId)
      if (!found.ok) return found
      const { appointment } = found.value
      if (appointment.status !== 'pending') {
        const about = `appointment:${appointment.id}`
        return refuse({ rule: 'appointment/accepted-already', level: 'stop', about })
      }
      const when = planTime({ ...appointment, startsAt }, appointment.zone)
      if (!when.ok) return when
      const choice = world.isolationChoice.find((each) => each.appointmentId === appointment.id) ?? null
      const suggested = makeSuggested(appointment.id, startsAt)
      return ok({ change: withAnswer({ choice, appointment }, suggested, context), findings: [] })
    },
  }),
  'appointment.keep': commandRule({
    kind: 'appointment.keep',
    needs: 'day:change',
    input: theAppointment,
    reach: ofAppointment,
    decide: decideOn((appointment) => {
      const about = `appointment:${appointment.id}`
      if (appointment.vanished === null) {
        return refuse({ rule: 'appointment/not-vanished', level: 'stop', about })
      }
      return ok(putting('appointment', { ...appointment, vanished: null }))
    }),
  }),
  'appointment.cancel': commandRule({
    kind: 'appointment.cancel',
    needs: 'day:change',
    input: theAppointment.extend({ reason: words }),
    reach: ofAppointment,
    decide: (world, input, { now }) => decideEnd(world, input.appointmentId, { status: 'cancelled', now }),
  }),
  'appointment.no-show': commandRule({
    kind: 'appointment.no-show',
    needs: 'day:change',
    input: theAppointment,
    reach: ofAppointment,
    decide: (world, input, { now }) => decideEnd(world, input.appointmentId, { status: 'noshow', now }),
  }),
  'appointment.arrive': commandRule({
    kind: 'appointment.arrive',
    needs: 'day:change',
    input: theAppointment,
    reach: ofAppointment,
    decide: (world, input, context) => decideArrive(world, input.appointmentId, context),
  }),
}

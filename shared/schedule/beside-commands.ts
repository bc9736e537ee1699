import { z } from 'zod'
import type { Instant } from '../base/moment.ts'
import { ok, refuse } from '../base/result.ts'
import { putting } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { AppointmentId, MemberId, OperatoryId } from '../ids.ts'
import { id, saw } from '../inputs.ts'
import { judgeNeedles } from '../isolation/process.ts'
import { withAnswer } from '../readiness/answer.ts'
import { hadDam } from '../readiness/counting.ts'
import { findAppointment, indexDay } from '../readiness/day-index.ts'
import { judgeShown, shownWork } from '../readiness/shown.ts'
import { STAYS } from '../readiness/staying.ts'
import { TEETH } from '../teeth/tooth.ts'
import { isOver, type Occupancy, ROOM_TASKS } from './appointment.ts'
import { permittedBy } from './seat.ts'
import { makeVisit, tasksLeft } from './visit.ts'

const words = z.string().trim().min(1).max(2000)
const tooth = z.enum(TEETH)
const theAppointment = z.object({ appointmentId: id<AppointmentId>() })
const withItsDay = ({ appointmentId }: z.infer<typeof theAppointment>) => ({
  appointments: [appointmentId],
  daysOf: [appointmentId],
})

const turning = z.object({ operatoryId: id<OperatoryId>(), tasks: z.array(z.enum(ROOM_TASKS)).min(1) })

function decideTurnOver(world: World, input: z.infer<typeof turning>, context: CommandContext): Decision {
  const about = `operatory:${input.operatoryId}`
  const room = world.occupancy.find((each) => each.operatoryId === input.operatoryId)
  if (!findFact(world, 'operatory', input.operatoryId) || !room) {
    return refuse({ rule: 'room/unknown', level: 'stop', about })
  }
  if (room.life.kind !== 'turning-over') {
    return refuse({ rule: 'room/nothing-to-turn-over', level: 'stop', about })
  }
  const ticked = [...room.life.done, ...input.tasks]
  const done = ROOM_TASKS.filter((task) => ticked.includes(task))
  const life: Occupancy['life'] =
    tasksLeft(done).length > 0 ? { ...room.life, done } : { kind: 'clear', since: context.now }
  return ok({ change: putting('occupancy', { ...room, life }), findings: [] })
}

const consenting = theAppointment.extend({ text: words, teeth: z.array(tooth).max(52), saw })

function decideConsent(world: World, input: z.infer<typeof consenting>, context: CommandContext): Decision {
  const about = `appointment:${input.appointmentId}`
  const appointment = findFact(world, 'appointment', input.appointmentId)
  if (!appointment)
    return refuse({ rule: 'appointment/unknown', level: 'stop', about, id: input.appointmentId })
  const { status } = appointment
  if (isOver(status)) return refuse({ rule: 'appointment/over', level: 'stop', about, status })
  const known = world.visit.find((visit) => visit.appointmentId === appointment.id)
  const visit = known ?? makeVisit(appointment.id, context)
  const { text, teeth } = input
  const ofIt = world.work.filter((each) => each.appointmentId === appointment.id)
  const moved = judgeShown(input.saw, { stands: shownWork(ofIt), what: 'work', about })
  if (moved.length > 0) return refuse(...moved)
  const agreed = ofIt
    .map(({ kind, teeth: on }) => ({ kind, on, teeth: on.filter((one) => teeth.includes(one)) }))
    .filter((each) => each.on.length === 0 || each.teeth.length > 0)
  const consent = { text, teeth, work: permittedBy(agreed), by: context.by.id, at: context.now }
  return ok({ change: putting('visit', { ...visit, consent }), findings: [] })
}

const watching = theAppointment.extend({ memberId: id<MemberId>() })

/** Another than who treats: two tasks at once are neither. */
function decideMonitor(world: World, input: z.infer<typeof watching>, context: CommandContext): Decision {
  const about = `appointment:${input.appointmentId}`
  const facts = findAppointment(indexDay(world), input.appointmentId)
  if (!facts) return refuse({ rule: 'appointment/unknown', level: 'stop', about, id: input.appointmentId })
  const { dentistId, studentId, status } = facts.appointment
  if (isOver(status)) return refuse({ rule: 'appointment/over', level: 'stop', about, status })
  const member = findFact(world, 'member', input.memberId)
  if (!member) return refuse({ rule: 'person/unknown', level: 'stop', about: `member:${input.memberId}` })
  if (member.id === dentistId || member.id === studentId) {
    return refuse({ rule: 'sedation/monitor-treats', level: 'stop', about })
  }
  const answer = { rule: 'sedation/no-monitor', about, answer: member.id }
  return ok({ change: withAnswer(facts, answer, context), findings: [] })
}

/** Anyone, also who treats, as long as they stay. */
function decideStay(world: World, input: z.infer<typeof watching>, context: CommandContext): Decision {
  const about = `appointment:${input.appointmentId}`
  const facts = findAppointment(indexDay(world), input.appointmentId)
  if (!facts) return refuse({ rule: 'appointment/unknown', level: 'stop', about, id: input.appointmentId })
  const { status } = facts.appointment
  if (isOver(status)) return refuse({ rule: 'appointment/over', level: 'stop', about, status })
  const member = findFact(world, 'member', input.memberId)
  if (!member) return refuse({ rule: 'person/unknown', level: 'stop', about: `member:${input.memberId}` })
  return ok({ change: withAnswer(facts, { rule: STAYS, about, answer: member.id }, context), findings: [] })
}

const interpreting = theAppointment.extend({ who: z.string().trim().min(1).max(200) })

/** Who will interpret, booked ahead: a name, a service, a number. */
function decideInterpreter(
  world: World,
  input: z.infer<typeof interpreting>,
  context: CommandContext,
): Decision {
  const about = `appointment:${input.appointmentId}`
  const facts = findAppointment(indexDay(world), input.appointmentId)
  if (!facts) return refuse({ rule: 'appointment/unknown', level: 'stop', about, id: input.appointmentId })
  const { status, patientId } = facts.appointment
  if (isOver(status)) return refuse({ rule: 'appointment/over', level: 'stop', about, status })
  if (!facts.patient?.interpreter) {
    const needs = 'interpreter'
    return refuse({ rule: 'patient/no-companion', level: 'stop', about: `patient:${patientId}`, needs })
  }
  const answer = { rule: 'interpreter/not-booked', about, answer: input.who }
  return ok({ change: withAnswer(facts, answer, context), findings: [] })
}

const count = z.int().min(0).max(99)
const counting = theAppointment.extend({ needles: count, files: count, blades: count })

/** What went in where no sheet did. With a sheet the counting is the dam's own. */
function decideCount(world: World, input: z.infer<typeof counting>, context: CommandContext): Decision {
  const about = `appointment:${input.appointmentId}`
  const facts = findAppointment(indexDay(world), input.appointmentId)
  if (!facts) return refuse({ rule: 'appointment/unknown', level: 'stop', about, id: input.appointmentId })
  const { visit, appointment } = facts
  const { status } = appointment
  if (isOver(status)) return refuse({ rule: 'appointment/over', level: 'stop', about, status })
  if (visit === null) {
    return refuse({ rule: 'visit/wrong-stage', level: 'stop', about, stage: 'expected', needs: ['seated'] })
  }
  if (hadDam(facts)) return refuse({ rule: 'counts/with-dam', level: 'stop', about })
  const faults = judgeNeedles(world, input)
  if (faults.length > 0) return refuse(...faults)
  const { needles, files, blades } = input
  const none = { clamps: 0, sheetPieces: 0, ligatures: 0 }
  const counts = { ...none, needles, files, blades, by: context.by.id, at: context.now }
  return ok({ change: putting('visit', { ...visit, counts }), findings: [] })
}

const moving = z.object({ to: z.int() })

/** The invented clinic's clock is moved; a real clinic's is the wall's. */
function decideClock(
  world: World,
  input: z.infer<typeof moving>,
  { clinicId, now }: CommandContext,
): Decision {
  const clinic = findFact(world, 'clinic', clinicId)
  if (!clinic?.invented || clinic.clock.kind !== 'demo') {
    return refuse({ rule: 'clock/real-clinic', level: 'stop', about: `clinic:${clinicId}` })
  }
  const offset = clinic.clock.offset + ((input.to as Instant) - now)
  return ok({ change: putting('clinic', { ...clinic, clock: { kind: 'demo', offset } }), findings: [] })
}

/** What happens beside a visit: its room, its permission, its watcher, and the clock of an invented clinic. */
export const BESIDE_COMMANDS = {
  'room.turn-over': commandRule({
    kind: 'room.turn-over',
    needs: 'tray:use',
    input: turning,
    reach: (input) => ({ operatories: [input.operatoryId] }),
    decide: decideTurnOver,
  }),
  'consent.record': commandRule({
    kind: 'consent.record',
    needs: 'patient:identify',
    input: consenting,
    reach: withItsDay,
    decide: decideConsent,
  }),
  'visit.count': commandRule({
    kind: 'visit.count',
    needs: 'dam:place',
    input: counting,
    reach: withItsDay,
    decide: decideCount,
  }),
  'monitor.name': commandRule({
    kind: 'monitor.name',
    needs: 'patient:identify',
    input: watching,
    reach: withItsDay,
    decide: decideMonitor,
  }),
  'stay.name': commandRule({
    kind: 'stay.name',
    needs: 'patient:identify',
    input: watching,
    reach: withItsDay,
    decide: decideStay,
  }),
  'interpreter.book': commandRule({
    kind: 'interpreter.book',
    needs: 'day:change',
    input: interpreting,
    reach: withItsDay,
    decide: decideInterpreter,
  }),
  'clock.move': commandRule({
    kind: 'clock.move',
    needs: 'clock:move',
    input: moving,
    reach: () => ({}),
    decide: decideClock,
  }),
}

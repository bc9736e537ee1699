import { z } from 'zod'
import type { Instant } from '../base/moment.ts'
import { ok, type Result, refuse } from '../base/result.ts'
import type { Gate } from '../base/rule.ts'
import { type Change, joinChanges, putting } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { Finding } from '../finding.ts'
import type { AppointmentId, MemberId } from '../ids.ts'
import { day, id } from '../inputs.ts'
import type { Patient } from '../people/patient.ts'
import { findAppointment, indexDay } from '../readiness/day-index.ts'
import { judgeGate, judgeGoing } from '../readiness/gate.ts'
import { needsDam } from '../readiness/gates.ts'
import { lapseWord } from '../readiness/lapse.ts'
import { TEETH, type Tooth } from '../teeth/tooth.ts'
import {
  type Appointment,
  isOver,
  type Occupancy,
  VISIT_STAGES,
  type Visit,
  type VisitStage,
  type Who,
} from './appointment.ts'
import { becameAnother, judgeAnswers, NOTHING_SAID } from './identity.ts'
import { likenessOn } from './name-alert.ts'
import { findIdentityFault, isAnother, isSameTeeth, visitStage } from './seat.ts'
import { leaveChair, reach, soil, tasksLeft, whoAnew } from './visit.ts'

const words = z.string().trim().min(1).max(2000)
const tooth = z.enum(TEETH)
const theAppointment = z.object({ appointmentId: id<AppointmentId>() })
type TheAppointment = z.infer<typeof theAppointment>
const withItsDay = ({ appointmentId }: TheAppointment) => ({
  appointments: [appointmentId],
  daysOf: [appointmentId],
})

/** A visit that stands where the act needs it. */
interface Standing {
  appointment: Appointment
  visit: Visit
  stage: VisitStage
}

const stagesFrom = (from: VisitStage, to: VisitStage): VisitStage[] =>
  VISIT_STAGES.slice(VISIT_STAGES.indexOf(from), VISIT_STAGES.indexOf(to) + 1)

function findStanding(
  world: World,
  appointmentId: AppointmentId,
  needs: VisitStage[],
): Result<Standing, Finding> {
  const about = `appointment:${appointmentId}`
  const appointment = findFact(world, 'appointment', appointmentId)
  if (!appointment) return refuse({ rule: 'appointment/unknown', level: 'stop', about, id: appointmentId })
  const { status } = appointment
  if (isOver(status)) return refuse({ rule: 'appointment/over', level: 'stop', about, status })
  const visit = world.visit.find((each) => each.appointmentId === appointmentId) ?? null
  const stage = visitStage({ appointment, visit })
  if (visit === null || !needs.includes(stage)) {
    return refuse({ rule: 'visit/wrong-stage', level: 'stop', about, stage, needs })
  }
  return ok({ appointment, visit, stage })
}

/** An act on a visit: where it may stand, and what comes of it. */
function decideAt(needs: VisitStage[], decide: (standing: Standing, act: Act) => Result<Change, Finding>) {
  return (world: World, input: TheAppointment, context: CommandContext): Decision => {
    const standing = findStanding(world, input.appointmentId, needs)
    if (!standing.ok) return standing
    const decided = decide(standing.value, { world, context })
    return decided.ok ? ok({ change: decided.value, findings: [] }) : decided
  }
}
interface Act {
  world: World
  context: CommandContext
}

/** What keeps a gate shut, unless nothing does. */
function judgePassage({ appointment }: Standing, { world, context }: Act, gate: Gate): Finding[] {
  return judgeGate(world, { appointmentId: appointment.id, gate, now: context.now })
}

const IDENTIFIERS = ['full-name', 'birth-day', 'patient-number', 'photo', 'carer'] as const
const HOWS = ['asked', 'typed', 'scanned'] as const
const identifying = theAppointment.extend({
  identifiers: z.array(z.enum(IDENTIFIERS)),
  how: z.enum(HOWS),
  /** What was answered, where it can be compared: the birth day picked among decoys, name and day typed, a code scanned. */
  said: z
    .object({
      name: z.string().trim().min(1).max(240).nullable().default(null),
      born: day.nullable().default(null),
      number: z.string().trim().min(1).max(80).nullable().default(null),
    })
    .default(NOTHING_SAID),
})

function decideIdentify(world: World, input: z.infer<typeof identifying>, context: CommandContext): Decision {
  const standing = findStanding(world, input.appointmentId, stagesFrom('arrived', 'started'))
  if (!standing.ok) return standing
  const { visit, appointment } = standing.value
  const identifiers = [...new Set(input.identifiers)]
  const about = `appointment:${appointment.id}`
  if (identifiers.length < 2) return refuse({ rule: 'identity/too-few', level: 'stop', about })
  const likeness = likenessOn(world, appointment)
  const done = { by: context.by.id, at: context.now }
  const patient = findFact(world, 'patient', appointment.patientId) ?? null
  const differed = differedBefore(visit, patient, done)
  const named: Visit = {
    ...visit,
    identity: { identifiers, how: input.how, of: patient && whoOf(patient), ...done },
    identityDiffered: differed && { ...differed, settled: context.now },
    nameAlertSeen: likeness === 'none' ? visit.nameAlertSeen : done,
  }
  const answered = patient ? judgeAnswers(patient, input, about) : []
  const what = answered.flatMap((finding) => (finding.rule === 'identity/differs' ? [finding.what] : []))
  if (what.length > 0) {
    // That it differed is kept: another screen must not take a touch for an answer.
    const doubted = { ...visit, identity: null, identityDiffered: { what, ...done, settled: null } }
    return ok({ change: putting('visit', doubted), findings: answered })
  }
  const fault = [...findIdentityFault({ appointment, patient, visit: named }, likeness), ...answered]
  return fault.length > 0 ? refuse(...fault) : ok({ change: putting('visit', named), findings: [] })
}

const whoOf = ({ given, family, born }: Patient): Who => ({ given, family, born })

/** An answer that differed earlier, or a record that became another's since it was agreed to. */
function differedBefore(
  { identity, identityDiffered }: Visit,
  patient: Patient | null,
  done: { by: MemberId; at: Instant },
): Visit['identityDiffered'] {
  const what = identity?.of && patient ? becameAnother(identity.of, patient) : []
  return what.length > 0 ? { what, ...done, settled: null } : (identityDiffered ?? null)
}

const SEATED = stagesFrom('seated', 'clamped')

function seat(standing: Standing, act: Act): Result<Change, Finding> {
  const { appointment, visit } = standing
  const patient = findFact(act.world, 'patient', appointment.patientId) ?? null
  const fault = findIdentityFault({ appointment, patient, visit }, likenessOn(act.world, appointment))
  const room = findRoom(act.world, appointment)
  if (!room.ok) return refuse(...fault, ...room.reasons)
  const shut = [...fault, ...judgePassage(standing, act, 'seat')]
  if (shut.length > 0) return refuse(...shut)
  const { now } = act.context
  return ok(
    joinChanges(
      putting('visit', reach(visit, 'seated', act.context)),
      putting('appointment', { ...appointment, status: 'checked-in' }),
      putting('occupancy', {
        ...room.value,
        life: { kind: 'occupied', appointmentId: appointment.id, since: now },
      }),
    ),
  )
}

/** The room, clear. One of which nothing is known has not been turned over. */
function findRoom(world: World, appointment: Appointment): Result<Occupancy, Finding> {
  const about = `appointment:${appointment.id}`
  if (appointment.operatoryId === null) return refuse({ rule: 'room/unnamed', level: 'ask', about })
  const room = world.occupancy.find((each) => each.operatoryId === appointment.operatoryId)
  if (room?.life.kind === 'clear') return ok(room)
  if (room?.life.kind === 'occupied') {
    return refuse({ rule: 'room/occupied', level: 'stop', about, by: room.life.appointmentId })
  }
  const left = tasksLeft(room?.life.kind === 'turning-over' ? room.life.done : [])
  return refuse({ rule: 'room/not-turned-over', level: 'stop', about, left })
}

const reading = theAppointment.extend({ teeth: z.array(tooth).max(52), planNumber: z.int().min(0) })

/**
 * What was said aloud must be what is planned; a difference is nobody's to smooth over here. Another tooth than is
 * planned may be another patient: who it is is asked anew, before what is to be done.
 */
function decideReadBack(world: World, input: z.infer<typeof reading>, context: CommandContext): Decision {
  const standing = findStanding(world, input.appointmentId, stagesFrom('seated', 'started'))
  if (!standing.ok) return standing
  const { appointment, visit } = standing.value
  const planned = plannedTeeth(world, appointment.id)
  const number = planNumberOf(world, appointment.id)
  const about = `appointment:${appointment.id}`
  if (!isSameTeeth(input.teeth, planned)) {
    const differs: Finding = { rule: 'side/differs', level: 'stop', about, said: input.teeth, planned }
    return isAnother(input.teeth, planned)
      ? ok({ change: putting('visit', whoAnew(visit)), findings: [differs] })
      : refuse(differs)
  }
  if (input.planNumber !== number) {
    return refuse({ rule: 'word/stale-number', level: 'stop', about, named: input.planNumber, number })
  }
  const readBack = { teeth: input.teeth, planNumber: number, by: context.by.id, at: context.now }
  return ok({ change: putting('visit', { ...visit, readBack }), findings: [] })
}

const plannedTeeth = (world: World, appointmentId: AppointmentId): Tooth[] => [
  ...new Set(world.work.filter((work) => work.appointmentId === appointmentId).flatMap((work) => work.teeth)),
]
const planNumberOf = (world: World, appointmentId: AppointmentId): number =>
  Math.max(0, ...world.plan.filter((plan) => plan.appointmentId === appointmentId).map((plan) => plan.number))

const clamping = theAppointment.extend({ tied: z.boolean() })

function decideClamp(world: World, input: z.infer<typeof clamping>, context: CommandContext): Decision {
  return decideAt(stagesFrom('seated', 'injected'), (standing, act) => {
    const { appointment, visit } = standing
    const about = `appointment:${appointment.id}`
    const plan = findAppointment(indexDay(act.world), appointment.id)?.plan ?? null
    if (!needsDam(plan)) return refuse({ rule: 'clamp/not-planned', level: 'stop', about })
    const mayBeUntied = act.world.policySet[0]?.isolation.untiedClampAllowed ?? false
    const hasClamp = plan?.agreed.sheets.some((sheet) => sheet.clamps.length > 0) ?? false
    const untied: Finding[] =
      input.tied || mayBeUntied || !hasClamp ? [] : [{ rule: 'clamp/not-tied', level: 'stop', about }]
    const shut = [...untied, ...judgePassage(standing, act, 'clamp')]
    if (shut.length > 0) return refuse(...shut)
    const clamp = input.tied ? { tiedBy: context.by.id, at: context.now } : null
    return ok(putting('visit', { ...reach(visit, 'clamped', context), clamp }))
  })(world, input, context)
}

function start(standing: Standing, act: Act): Result<Change, Finding> {
  const { appointment, visit, stage } = standing
  const plan = findAppointment(indexDay(act.world), appointment.id)?.plan ?? null
  const about = `appointment:${appointment.id}`
  if (needsDam(plan) && stage !== 'clamped') {
    return refuse({ rule: 'visit/wrong-stage', level: 'stop', about, stage, needs: ['clamped'] })
  }
  const shut = judgePassage(standing, act, 'start')
  return shut.length > 0 ? refuse(...shut) : ok(putting('visit', reach(visit, 'started', act.context)))
}

function leave(standing: Standing, act: Act): Result<Change, Finding> {
  const { appointment, visit } = standing
  const shut = judgePassage(standing, act, 'leave')
  if (shut.length > 0) return refuse(...shut)
  return ok(
    joinChanges(
      putting('visit', reach(visit, 'left', act.context)),
      putting('appointment', { ...appointment, status: 'fulfilled' }),
      leaveRoom(appointment, act),
    ),
  )
}

/** Out of the chair before the work is done: to the waiting room, with nothing left in the mouth. */
function goBack(standing: Standing, act: Act): Result<Change, Finding> {
  const { appointment, visit } = standing
  const { now } = act.context
  const kept = judgeGoing(act.world, { appointmentId: appointment.id, now, from: 'chair' })
  if (kept.length > 0) return refuse(...kept)
  return ok(
    joinChanges(
      putting('visit', leaveChair(visit, act.context)),
      putting('appointment', { ...appointment, status: 'arrived' }),
      leaveRoom(appointment, act),
    ),
  )
}

function leaveRoom(appointment: Appointment, { world, context }: Act): Change {
  const room = world.occupancy.find(
    ({ life }) => life.kind === 'occupied' && life.appointmentId === appointment.id,
  )
  if (!room) return putting('occupancy')
  const latexUsed = usedLatex(world, appointment.id)
  return putting('occupancy', soil(room, { now: context.now, latexUsed }))
}

/** Latex was in the room unless every line of its tray is known to be free of it. */
function usedLatex(world: World, appointmentId: AppointmentId): boolean {
  const tray = world.tray.find((each) => each.appointmentId === appointmentId)
  return tray === undefined || tray.contains.some(({ substance }) => substance === 'latex')
}

/** Said again from the beginning: what was read back before the interruption counts no more. */
function interrupt({ appointment, visit }: Standing, { world, context }: Act): Result<Change, Finding> {
  const after = findAppointment(indexDay(world), appointment.id)
  const words = after
    ? after.words.map((word) => lapseWord(word, { after, now: context.now }, 'interrupted'))
    : []
  const lapsed = words.filter(({ life }) => life.kind === 'lapsed' && life.at === context.now)
  return ok(
    joinChanges(putting('visit', { ...visit, readBack: null, timeOut: null }), putting('word', ...lapsed)),
  )
}

export const VISIT_COMMANDS = {
  'visit.identify': commandRule({
    kind: 'visit.identify',
    needs: 'patient:identify',
    input: identifying,
    reach: withItsDay,
    decide: decideIdentify,
  }),
  'visit.seat': commandRule({
    kind: 'visit.seat',
    needs: 'patient:identify',
    input: theAppointment,
    reach: withItsDay,
    decide: decideAt(['arrived'], seat),
  }),
  'visit.read-back': commandRule({
    kind: 'visit.read-back',
    needs: 'patient:identify',
    input: reading,
    reach: withItsDay,
    decide: decideReadBack,
  }),
  'visit.clamp': commandRule({
    kind: 'visit.clamp',
    needs: 'dam:place',
    input: clamping,
    reach: withItsDay,
    decide: decideClamp,
  }),
  'visit.start': commandRule({
    kind: 'visit.start',
    needs: 'work:start',
    input: theAppointment,
    reach: withItsDay,
    decide: decideAt(SEATED, start),
  }),
  'visit.finish': commandRule({
    kind: 'visit.finish',
    needs: 'work:start',
    input: theAppointment,
    reach: withItsDay,
    decide: decideAt(['started'], ({ visit }, { context }) =>
      ok(putting('visit', reach(visit, 'finished', context))),
    ),
  }),
  'visit.leave': commandRule({
    kind: 'visit.leave',
    needs: 'patient:identify',
    input: theAppointment,
    reach: withItsDay,
    decide: decideAt(['finished'], leave),
  }),
  'visit.leave-chair': commandRule({
    kind: 'visit.leave-chair',
    needs: 'patient:identify',
    input: theAppointment.extend({ why: words }),
    reach: withItsDay,
    decide: decideAt(stagesFrom('seated', 'started'), goBack),
  }),
  'visit.interrupt': commandRule({
    kind: 'visit.interrupt',
    needs: 'word:stop',
    input: theAppointment.extend({ why: words }),
    reach: withItsDay,
    decide: decideAt(SEATED, interrupt),
  }),
}

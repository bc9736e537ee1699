import { z } from 'zod'
import { microlitres } from '../base/amount.ts'
import { ok, refuse } from '../base/result.ts'
import { joinChanges, putting } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { Finding } from '../finding.ts'
import type { AppointmentId, DoseId, NumbnessId } from '../ids.ts'
import { id } from '../inputs.ts'
import type { Work } from '../procedures/work.ts'
import { findAppointment, indexDay } from '../readiness/day-index.ts'
import { judgeNeedle } from '../readiness/needle.ts'
import { type Appointment, VISIT_STAGES, type Visit } from '../schedule/appointment.ts'
import { isSedated } from '../schedule/seat.ts'
import { TEETH, type Tooth } from '../teeth/tooth.ts'
import {
  AGENTS,
  type Anaesthetic,
  type Dose,
  isOnlyTopical,
  LIMIT_PROFILE_IDS,
  NUMBNESS_ANSWERS,
  type Numbness,
  TECHNIQUES,
  VASOCONSTRICTORS,
} from './anaesthetic.ts'
import { anaestheticOf } from './anaesthetic-of.ts'
import { judgeLabelAnswered } from './cartridge.ts'
import { CARTRIDGE_COMMANDS, labelSightOf } from './cartridge-commands.ts'
import { type DoseSight, judgeDose, judgeSolution } from './judge-dose.ts'

const appointmentId = id<AppointmentId>()
const theAppointment = z.object({ appointmentId })
const dose = z
  .object({
    agent: z.enum(AGENTS),
    milliPercent: z.int().min(100).max(25_000),
    vasoconstrictor: z.enum(VASOCONSTRICTORS),
    ratio: z.int().min(10_000).max(1_000_000).nullable(),
    /** Microlitres in one cartridge. */
    cartridge: z.int().min(500).max(5000).transform(microlitres),
    technique: z.enum(TECHNIQUES),
    tooth: z.enum(TEETH).nullable(),
    side: z.enum(['right', 'left']),
    tenthsOfCartridge: z.int().min(1).max(200),
  })
  .refine(({ agent, technique }) => technique === 'topical' || !isOnlyTopical(agent), {
    message: 'an ester is laid on, never injected',
    path: ['technique'],
  })
const planInput = theAppointment.extend({
  planned: z.array(dose).min(1).max(12),
  profile: z.enum(LIMIT_PROFILE_IDS).nullable().default(null),
})
const noneInput = theAppointment.extend({
  reason: z.string().trim().min(1).max(300),
  topicalAtClamp: z.boolean(),
})
const doseInput = theAppointment.extend({
  dose,
  /** It is in already: it is kept as it is and what is wrong with it is told, not refused. */
  alreadyGiven: z.boolean().default(false),
})
const numbnessInput = theAppointment.extend({
  place: z.discriminatedUnion('kind', [
    z.object({ kind: z.literal('gum'), tooth: z.enum(TEETH), side: z.enum(['cheek', 'tongue']) }),
    z.object({ kind: z.literal('tooth'), tooth: z.enum(TEETH) }),
  ]),
  answer: z.enum(NUMBNESS_ANSWERS),
  method: z.enum(['probe', 'cold', 'electric', 'patient-said']),
})
const aftercareInput = theAppointment.extend({ to: z.enum(['patient', 'carer']) })

const aboutOf = (id: AppointmentId): string => `appointment:${id}`
const unknown = (id: AppointmentId): Decision =>
  refuse({ rule: 'appointment/unknown', level: 'stop', about: aboutOf(id), id })

/** The sight of a patient's whole day, with one anaesthetic and one more dose as they would be. */
function sightOf(world: World, appointment: Appointment, anaesthetic: Anaesthetic): DoseSight {
  const patient = findFact(world, 'patient', appointment.patientId) ?? null
  const ofDay = new Set(
    world.appointment
      .filter(({ patientId, day }) => patientId === appointment.patientId && day === appointment.day)
      .map(({ id }) => id),
  )
  return {
    appointmentId: appointment.id,
    anaesthetic,
    given: world.dose.filter(({ appointmentId: of }) => ofDay.has(of)),
    patient,
    day: appointment.day,
    zone: appointment.zone,
    allergies: world.allergyRecord.find(({ patientId }) => patientId === appointment.patientId) ?? null,
    policy: world.policySet[0] ?? null,
    worked: workedTeeth(world, appointment.id),
    sedated: isSedated({ appointment, work: worksOf(world, appointment.id) }),
  }
}

const worksOf = (world: World, id: AppointmentId): Work[] =>
  world.work.filter((work) => work.appointmentId === id)

const workedTeeth = (world: World, id: AppointmentId): Tooth[] => [
  ...new Set(worksOf(world, id).flatMap(({ teeth }) => teeth)),
]

const stopsOf = <F extends Finding>(findings: readonly F[]): F[] =>
  findings.filter(({ level }) => level === 'stop')

/** An entered plan: refused where it is over its profile, kept with what cannot be checked told. */
function decidePlan(world: World, input: z.infer<typeof planInput>, context: CommandContext): Decision {
  const appointment = findFact(world, 'appointment', input.appointmentId)
  if (!appointment) return unknown(input.appointmentId)
  const anaesthetic: Anaesthetic = {
    ...anaestheticOf(world, appointment.id, context),
    intent: { kind: 'injection', by: context.by.id, at: context.now },
    planned: input.planned,
    profile: input.profile,
  }
  const findings = judgeDose(sightOf(world, appointment, anaesthetic))
  const stops = stopsOf(findings)
  return stops.length > 0 ? refuse(...stops) : ok({ change: putting('anaesthetic', anaesthetic), findings })
}

function decideNone(world: World, input: z.infer<typeof noneInput>, context: CommandContext): Decision {
  const appointment = findFact(world, 'appointment', input.appointmentId)
  if (!appointment) return unknown(input.appointmentId)
  const { reason, topicalAtClamp } = input
  const anaesthetic: Anaesthetic = {
    ...anaestheticOf(world, appointment.id, context),
    intent: { kind: 'none', reason, topicalAtClamp, by: context.by.id, at: context.now },
    planned: [],
  }
  return ok({ change: putting('anaesthetic', anaesthetic), findings: [] })
}

const hasReached = (visit: Visit | undefined, stage: Visit['stage']): visit is Visit =>
  visit !== undefined && VISIT_STAGES.indexOf(visit.stage) >= VISIT_STAGES.indexOf(stage)

/** The needle: identity, side, history, allergies and the dentist's word stand before it, and the cartridge is the planned one. */
function decideDose(world: World, input: z.infer<typeof doseInput>, context: CommandContext): Decision {
  const appointment = findFact(world, 'appointment', input.appointmentId)
  if (!appointment) return unknown(input.appointmentId)
  const visit = world.visit.find((each) => each.appointmentId === appointment.id)
  const about = aboutOf(appointment.id)
  if (!hasReached(visit, 'seated') || visit.stage === 'left') {
    return refuse({ rule: 'dose/visit-not-seated', level: 'stop', about })
  }
  const given: Dose = {
    ...input.dose,
    clinicId: context.clinicId,
    id: context.newId<DoseId>(),
    appointmentId: appointment.id,
    patientId: appointment.patientId,
    by: context.by.id,
    at: context.now,
  }
  const findings = judgeGiven(world, { appointment, given, context })
  const { alreadyGiven } = input
  if (!alreadyGiven && findings.length > 0) return refuse(...findings)
  const change = joinChanges(putting('dose', given), putting('visit', moveToInjected(visit, given, context)))
  return ok({ change, findings })
}

interface Giving {
  appointment: Appointment
  given: Dose
  context: CommandContext
}

/** What bars this injection, or would have. */
function judgeGiven(world: World, { appointment, given, context }: Giving): Finding[] {
  const anaesthetic = anaestheticOf(world, appointment.id, context)
  const sight = sightOf(world, appointment, anaesthetic)
  // As it would stand with this dose in: what was not planned is checked all the same.
  const day = indexDay({ ...world, dose: [...world.dose, given] })
  const facts = findAppointment(day, appointment.id)
  const shut = facts ? judgeNeedle({ facts, day, now: context.now }, given) : []
  const against = judgeSolution(given, sight)
  const own = [
    ...judgeIntent(given, anaesthetic),
    ...against,
    ...(against.some(({ rule }) => rule === 'dose/not-as-planned') ? [] : judgeLabel(world, given)),
    ...judgeStudent({ appointment, given, context }, sight),
  ]
  // Of the labels, that of what is given counts.
  const known = new Set<string>([...own.map(({ rule }) => rule), 'cartridge/not-read-back'])
  return [...shut.filter(({ rule }) => !known.has(rule)), ...own]
}

/** What is given was read from its label by one and answered by another; what is only laid on has no cartridge. */
function judgeLabel(world: World, given: Dose): Finding[] {
  const sight = labelSightOf(world, given.appointmentId)
  return sight === null || given.technique === 'topical' ? [] : judgeLabelAnswered(sight, given)
}

/** "No injection" is the dentist's word until it is changed; what is laid on is none. */
const judgeIntent = (given: Dose, { intent }: Anaesthetic): Finding[] =>
  intent.kind === 'none' && given.technique !== 'topical'
    ? [
        {
          rule: 'dose/none-intended',
          level: 'stop',
          about: aboutOf(given.appointmentId),
          reason: intent.reason,
        },
      ]
    : []

const WITHOUT_INSTRUCTOR = 20
const teaches = ['dentist', 'instructor', 'hygienist'] as const

/** In a student's hands more than two cartridges in a day are the instructor's. */
function judgeStudent({ appointment, given, context }: Giving, { given: before }: DoseSight): Finding[] {
  const { roles } = context.by
  if (!roles.includes('student') || teaches.some((role) => roles.includes(role))) return []
  const tenths = [...before, given].reduce((total, { tenthsOfCartridge }) => total + tenthsOfCartridge, 0)
  if (tenths <= WITHOUT_INSTRUCTOR) return []
  return [{ rule: 'dose/instructor-first', level: 'stop', about: aboutOf(appointment.id), tenths }]
}

/** What is laid on is no needle: its gate stays ahead. */
function moveToInjected(visit: Visit, { technique }: Dose, { now, by }: CommandContext): Visit {
  if (visit.stage !== 'seated' || technique === 'topical') return visit
  return {
    ...visit,
    stage: 'injected',
    since: now,
    steps: [...visit.steps, { stage: 'injected', at: now, by: by.id }],
  }
}

/** An answer to one check at one place. Lip, gum and tooth are answered apart. */
function decideNumbness(
  world: World,
  input: z.infer<typeof numbnessInput>,
  context: CommandContext,
): Decision {
  const appointment = findFact(world, 'appointment', input.appointmentId)
  if (!appointment) return unknown(input.appointmentId)
  const visit = world.visit.find((each) => each.appointmentId === appointment.id)
  if (!hasReached(visit, 'seated')) {
    return refuse({ rule: 'numbness/not-seated', level: 'stop', about: aboutOf(appointment.id) })
  }
  const answer: Numbness = {
    clinicId: context.clinicId,
    id: context.newId<NumbnessId>(),
    appointmentId: appointment.id,
    place: input.place,
    answer: input.answer,
    method: input.method,
    by: context.by.id,
    at: context.now,
  }
  return ok({ change: putting('numbness', answer), findings: [] })
}

function decideAftercare(
  world: World,
  input: z.infer<typeof aftercareInput>,
  context: CommandContext,
): Decision {
  const visit = world.visit.find((each) => each.appointmentId === input.appointmentId)
  if (!visit)
    return refuse({ rule: 'numbness/not-seated', level: 'stop', about: aboutOf(input.appointmentId) })
  const aftercare = { to: input.to, by: context.by.id, at: context.now }
  return ok({ change: putting('visit', { ...visit, aftercare }), findings: [] })
}

const reach = (input: { appointmentId: AppointmentId }) => ({ appointments: [input.appointmentId] })
const withItsDay = (input: { appointmentId: AppointmentId }) => ({
  appointments: [input.appointmentId],
  daysOf: [input.appointmentId],
})

export const ANAESTHESIA_COMMANDS = {
  ...CARTRIDGE_COMMANDS,

  'anaesthetic.plan': commandRule({
    kind: 'anaesthetic.plan',
    needs: 'plan:choose',
    input: planInput,
    reach: withItsDay,
    decide: decidePlan,
  }),
  'anaesthetic.none-by-intent': commandRule({
    kind: 'anaesthetic.none-by-intent',
    needs: 'plan:choose',
    input: noneInput,
    reach,
    decide: decideNone,
  }),
  'dose.record': commandRule({
    kind: 'dose.record',
    needs: 'needle:use',
    input: doseInput,
    reach: withItsDay,
    decide: decideDose,
  }),
  'numbness.record': commandRule({
    kind: 'numbness.record',
    needs: 'numbness:record',
    input: numbnessInput,
    reach,
    decide: decideNumbness,
  }),
  'aftercare.give': commandRule({
    kind: 'aftercare.give',
    needs: 'numbness:record',
    input: aftercareInput,
    reach,
    decide: decideAftercare,
  }),
}

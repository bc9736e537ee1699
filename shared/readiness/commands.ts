import { z } from 'zod'
import { ok, refuse } from '../base/result.ts'
import { type Change, joinChanges, nothing, putting } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import type { World } from '../facts.ts'
import type { Finding } from '../finding.ts'
import type { AppointmentId, IncidentId, PatientId, WordId } from '../ids.ts'
import { id, saw } from '../inputs.ts'
import { RULES } from '../rules.ts'
import type { Visit } from '../schedule/appointment.ts'
import { isAnother, isSameTeeth } from '../schedule/seat.ts'
import { whoAnew } from '../schedule/visit.ts'
import { TEETH } from '../teeth/tooth.ts'
import { withAnswer } from './answer.ts'
import { type AppointmentFacts, findAppointment, indexDay } from './day-index.ts'
import { nextGate, stageOf } from './gates.ts'
import { findProposal, isStudentsOwnCheck, judgeWordGiving, PROPOSAL } from './giving.ts'
import { HELP_COMMANDS } from './help-commands.ts'
import { aboutOf, judgeOpen, recountOf, type Sight, workedTeeth } from './judges.ts'
import { LINE_COMMANDS } from './line-commands.ts'
import { canOverride, findingKey, makeOverride } from './override.ts'
import { judgeShown, shownWork } from './shown.ts'
import { findStop, STOP_OUTCOMES, type StopOutcome } from './stop.ts'
import { mustDrawFirst } from './teaching.ts'
import { TEACHING_COMMANDS } from './teaching-commands.ts'
import { findLiveWord } from './word.ts'

const appointmentId = id<AppointmentId>()
const number = z.int().nonnegative()
const ofOne = (input: { appointmentId: AppointmentId }) => ({ appointments: [input.appointmentId] })
const done = (change: Change): Decision => ok({ change, findings: [] })

const overriding = z.object({
  appointmentId,
  rule: z.string().max(80),
  about: z.string().max(200),
  /** The finding as it was read, by `findingKey`; null: the one that is open. */
  saw: z.string().max(4000).nullable().default(null),
  reason: z.string().trim().max(500),
})

/** A decision on one appointment, or the refusal that it is not known. */
const onOne =
  <Input extends { appointmentId: AppointmentId }>(
    decide: (sight: Sight, input: Input, context: CommandContext) => Decision,
  ) =>
  (world: World, input: Input, context: CommandContext): Decision => {
    const day = indexDay(world)
    const facts = findAppointment(day, input.appointmentId)
    const about = `appointment:${input.appointmentId}`
    if (!facts) return refuse({ rule: 'appointment/unknown', level: 'stop', about, id: input.appointmentId })
    return decide({ facts, day, now: context.now }, input, context)
  }

export const READINESS_COMMANDS = {
  ...HELP_COMMANDS,
  ...LINE_COMMANDS,
  ...TEACHING_COMMANDS,

  /** The dentist agrees to one plan number, and to no other. */
  'word.give': commandRule({
    kind: 'word.give',
    needs: 'word:give',
    input: z.object({ appointmentId, number }),
    reach: ofOne,
    decide: onOne((sight, input: { appointmentId: AppointmentId; number: number }, context) => {
      const { facts } = sight
      const { plan } = facts
      const reasons = judgeWordGiving(sight, { number: input.number, by: context.by })
      if (reasons.length > 0 || plan === null) return refuse(...reasons)
      return done(
        putting('word', {
          clinicId: context.clinicId,
          id: context.newId<WordId>(),
          appointmentId: facts.appointment.id,
          planNumber: plan.number,
          planDigest: plan.digest,
          by: context.by.id,
          at: context.now,
          station: context.station,
          proposedBy: findProposal(facts)?.by ?? null,
          life: { kind: 'live' },
        }),
      )
    }),
  }),

  /** The first of two steps where a student works under an instructor. */
  'word.propose': commandRule({
    kind: 'word.propose',
    needs: 'work:start',
    input: z.object({ appointmentId, number }),
    reach: ofOne,
    decide: onOne((sight, input: { appointmentId: AppointmentId; number: number }, context) => {
      const { plan } = sight.facts
      const about = aboutOf(sight)
      if (plan === null) return refuse({ rule: 'word/no-plan', level: 'stop', about })
      if (plan.number !== input.number) {
        const numbers = { named: input.number, number: plan.number }
        return refuse({ rule: 'word/stale-number', level: 'stop', about, ...numbers })
      }
      if (sight.facts.appointment.studentId !== context.by.id) {
        const booked = sight.facts.student?.shortName ?? null
        return refuse({ rule: 'word/not-booked-student', level: 'stop', about, booked })
      }
      if (mustDrawFirst(sight.facts, context.by.id)) {
        return refuse({ rule: 'word/not-drawn', level: 'stop', about })
      }
      const answer = { rule: PROPOSAL, about: `plan:${plan.number}`, answer: 'proposed' }
      return done(withAnswer(sight.facts, answer, context))
    }),
  }),

  /** The dentist takes a live word back. */
  'word.withdraw': commandRule({
    kind: 'word.withdraw',
    needs: 'word:give',
    input: z.object({ appointmentId }),
    reach: ofOne,
    decide: onOne((sight, _input: { appointmentId: AppointmentId }, context) => {
      const word = findLiveWord(sight.facts, sight.now)
      if (word === null) return refuse({ rule: 'word/none-live', level: 'stop', about: aboutOf(sight) })
      return done(putting('word', { ...word, life: { kind: 'lapsed', at: context.now, why: 'withdrawn' } }))
    }),
  }),

  /** "Stop, check side": anyone, one touch, no typing. It holds the operatory on every screen and is always kept. */
  'stop.check-side': commandRule({
    kind: 'stop.check-side',
    needs: 'word:stop',
    input: z.object({ appointmentId }),
    reach: ofOne,
    decide: onOne((sight, _input: { appointmentId: AppointmentId }, context) => {
      const open = findStop(sight.facts)
      if (open) {
        return refuse({ rule: 'stop/already-open', level: 'stop', about: aboutOf(sight), since: open.at })
      }
      return done(
        putting('incident', {
          clinicId: context.clinicId,
          id: context.newId<IncidentId>(),
          appointmentId: sight.facts.appointment.id,
          operatoryId: sight.facts.appointment.operatoryId,
          kind: 'stop-check-side',
          at: context.now,
          by: context.by.id,
          drill: false,
          steps: [],
          life: { kind: 'open' },
        }),
      )
    }),
  }),

  /** The dentist has looked. The stop is kept with what was found; the word must be given anew. */
  'stop.clear': commandRule({
    kind: 'stop.clear',
    needs: 'word:give',
    input: z.object({
      appointmentId,
      outcome: z.enum(STOP_OUTCOMES),
      note: z.string().max(500).default(''),
      saw,
    }),
    reach: ofOne,
    decide: onOne((sight, input: Clearing, context) => {
      const open = findStop(sight.facts)
      if (!open) return refuse({ rule: 'stop/not-open', level: 'stop', about: aboutOf(sight) })
      const moved = judgeShown(input.saw, { stands: open.id, what: 'stop', about: aboutOf(sight) })
      if (moved.length > 0) return refuse(...moved)
      const outcome = input.note === '' ? input.outcome : `${input.outcome}: ${input.note}`
      return done(
        joinChanges(
          putting('incident', {
            ...open,
            life: { kind: 'closed', at: context.now, by: context.by.id, outcome },
          }),
          askAnew(sight.facts, input.outcome, context),
        ),
      )
    }),
  }),

  /** Teeth counted before the dam goes on, and again through it. */
  'teeth.recount': commandRule({
    kind: 'teeth.recount',
    needs: 'dam:place',
    input: z.object({ appointmentId, when: z.enum(['before', 'through']), saw }),
    reach: ofOne,
    decide: onOne((sight, input: Recounting, context) => {
      const { visit, work } = sight.facts
      const stage = stageOf(sight.facts)
      const counted = recountOf(sight.facts)
      // Under the dam the first count is only due anew: the sheet is lifted, since other teeth are to be worked on.
      const isUnder = stage === 'clamped' && (input.when === 'through' || counted.before === null)
      const isBefore = input.when === 'before' && (stage === 'seated' || stage === 'injected')
      if (visit === null || !(isUnder || isBefore)) {
        return refuse({ rule: 'recount/not-due', level: 'stop', about: aboutOf(sight), stage })
      }
      const moved = judgeShown(input.saw, { stands: shownWork(work), what: 'work', about: aboutOf(sight) })
      if (moved.length > 0) return refuse(...moved)
      const teeth = workedTeeth(sight.facts)
      const recounted = { ...counted, [input.when]: context.now, teeth, by: context.by.id }
      return done(putting('visit', { ...visit, recounted }))
    }),
  }),

  /** Patient, plan and teeth said aloud by the team just before the start, and answered. */
  'time-out.done': commandRule({
    kind: 'time-out.done',
    needs: 'work:start',
    input: z.object({
      appointmentId,
      patientId: id<PatientId>(),
      teeth: z.array(z.enum(TEETH)).max(TEETH.length),
      number,
    }),
    reach: ofOne,
    decide: onOne((sight, input: TimeOutSaid, context) => {
      const { visit } = sight.facts
      const stage = stageOf(sight.facts)
      const about = aboutOf(sight)
      if (visit === null || nextGate(sight.facts) !== 'start') {
        return refuse({ rule: 'time-out/not-due', level: 'stop', about, stage })
      }
      if (isStudentsOwnCheck(sight.facts, context.by)) {
        return refuse({ rule: 'time-out/instructor-checks', level: 'stop', about })
      }
      const what = findDifference(sight.facts, input)
      if (what !== null) {
        const planned = workedTeeth(sight.facts)
        const differs: Finding = {
          rule: 'time-out/differs',
          level: 'stop',
          about,
          what,
          said: input.teeth,
          planned,
        }
        return what === 'teeth' && isAnother(input.teeth, planned)
          ? ok({ change: putting('visit', whoAnew(visit)), findings: [differs] })
          : refuse(differs)
      }
      const timeOut = { teeth: input.teeth, planNumber: input.number, by: context.by.id, at: context.now }
      return done(putting('visit', { ...visit, timeOut }))
    }),
  }),

  /** The dentist who treats passes over an open finding as it stands, with a reason that is kept. */
  'rule.override': commandRule({
    kind: 'rule.override',
    needs: 'word:give',
    input: overriding,
    reach: ({ appointmentId: id }) => ({ appointments: [id], daysOf: [id] }),
    decide: onOne(decideOverride),
  }),
}

/** What is passed over is open, is what was seen, and is not one of those that never are. */
function decideOverride(sight: Sight, input: z.infer<typeof overriding>, context: CommandContext): Decision {
  const about = aboutOf(sight)
  const { appointment, dentist } = sight.facts
  if (isRule(input.rule) && !canOverride(input.rule)) {
    return refuse({ rule: 'override/not-allowed', level: 'stop', about, named: input.rule, gate: null })
  }
  if (input.reason === '') return refuse({ rule: 'override/no-reason', level: 'stop', about })
  if (appointment.dentistId !== context.by.id) {
    const booked = dentist?.shortName ?? null
    return refuse({ rule: 'word/not-booked-dentist', level: 'stop', about, booked })
  }
  const [open, ...others] = judgeOpen(sight).filter(
    (finding) =>
      finding.level !== 'note' &&
      finding.rule === input.rule &&
      finding.about === input.about &&
      (input.saw === null || input.saw === findingKey(finding)),
  )
  if (!open || others.length > 0) {
    return refuse({ rule: 'override/not-open', level: 'stop', about, named: input.rule })
  }
  return done(withAnswer(sight.facts, makeOverride(open, input.reason, sight.facts), context))
}

const isRule = (name: string): name is Finding['rule'] => Object.hasOwn(RULES, name)

/** What a stop that found something wrong makes void: who it is where it was the wrong patient, what was read back. */
function askAnew({ visit }: AppointmentFacts, outcome: StopOutcome, { by, now }: CommandContext): Change {
  if (visit === null || outcome === 'nothing-wrong' || outcome === 'other') return nothing
  const anew = { ...visit, readBack: null, timeOut: null }
  if (outcome !== 'wrong-patient') return putting('visit', anew)
  const identityDiffered: Visit['identityDiffered'] = {
    what: ['name', 'birth-day'],
    by: by.id,
    at: now,
    settled: null,
  }
  return putting('visit', { ...anew, identity: null, identityDiffered })
}

interface Recounting {
  appointmentId: AppointmentId
  when: 'before' | 'through'
  saw: string | null
}

interface Clearing {
  appointmentId: AppointmentId
  outcome: StopOutcome
  note: string
  saw: string | null
}

interface TimeOutSaid {
  appointmentId: AppointmentId
  patientId: PatientId
  teeth: (typeof TEETH)[number][]
  number: number
}

/** Who before what: the patient is compared first. */
function findDifference(facts: AppointmentFacts, said: TimeOutSaid): 'patient' | 'plan' | 'teeth' | null {
  if (said.patientId !== facts.appointment.patientId) return 'patient'
  if (said.number !== (facts.plan?.number ?? 0)) return 'plan'
  return isSameTeeth(said.teeth, workedTeeth(facts)) ? null : 'teeth'
}

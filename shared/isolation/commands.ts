import { z } from 'zod'
import { ok, refuse } from '../base/result.ts'
import { putting } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { AppointmentId, IsolationChoiceId } from '../ids.ts'
import { id } from '../inputs.ts'
import { TEETH } from '../teeth/tooth.ts'
import { CHAIR_COMMANDS } from './chair-commands.ts'
import { openChoice } from './choice.ts'
import { ISOLATION_CLINIC_COMMANDS } from './clinic-commands.ts'
import {
  ALTERNATIVE_METHODS,
  FIELD_POLICY_IDS,
  type IsolationChoice,
  SHEET_MATERIALS,
} from './isolation-facts.ts'
import { answersOf, isAnsweredRule } from './questions.ts'

const theAppointment = z.object({ appointmentId: id<AppointmentId>() })
const withIt = ({ appointmentId }: { appointmentId: AppointmentId }) => ({ appointments: [appointmentId] })
const tooth = z.enum(TEETH)

/** What people have chosen so far; nothing, where nobody has. */
function choiceOf(world: World, appointmentId: AppointmentId, context: CommandContext): IsolationChoice {
  const known = world.isolationChoice.find((choice) => choice.appointmentId === appointmentId)
  return (
    known ?? openChoice({ clinicId: context.clinicId, id: context.newId<IsolationChoiceId>(), appointmentId })
  )
}

const isUnknown = (world: World, appointmentId: AppointmentId): boolean =>
  findFact(world, 'appointment', appointmentId) === undefined
const missing = (appointmentId: AppointmentId): Decision =>
  refuse({ rule: 'plan/missing', level: 'stop', about: `appointment:${appointmentId}` })

const choosing = theAppointment.extend({
  policy: z.enum(FIELD_POLICY_IDS).nullable().optional(),
  anchors: z.array(tooth).max(4).optional(),
  sheetMaterial: z.enum(SHEET_MATERIALS).nullable().optional(),
  alternative: z
    .object({ method: z.enum(ALTERNATIVE_METHODS), reason: z.string().max(2000) })
    .nullable()
    .optional(),
})

/** Keys left out stay as they were. Another way than a dam needs its reason. */
function decideChoose(world: World, input: z.infer<typeof choosing>, context: CommandContext): Decision {
  const { appointmentId, alternative } = input
  if (isUnknown(world, appointmentId)) return missing(appointmentId)
  const about = `appointment:${appointmentId}`
  if (alternative && alternative.reason.trim() === '') {
    return refuse({ rule: 'alternative/no-reason', level: 'stop', about, method: alternative.method })
  }
  const record = world.allergyRecord.find(
    (one) => one.patientId === findFact(world, 'appointment', appointmentId)?.patientId,
  )
  if (input.sheetMaterial === 'latex' && record?.latex !== 'none-known') {
    const said = record?.latex
    const latex = said === 'confirmed' || said === 'suspected' ? said : 'not-known'
    return refuse({ rule: 'sheet/latex-refused', level: 'stop', about, latex })
  }
  const choice = choiceOf(world, appointmentId, context)
  const stamp = { by: context.by.id, at: context.now }
  return ok({
    change: putting('isolationChoice', {
      ...choice,
      policy: input.policy === undefined ? choice.policy : input.policy,
      anchors: input.anchors ?? choice.anchors,
      sheetMaterial: input.sheetMaterial === undefined ? choice.sheetMaterial : input.sheetMaterial,
      alternative:
        alternative === undefined ? choice.alternative : alternative && { ...alternative, ...stamp },
    }),
    findings: [],
  })
}

const answering = theAppointment.extend({
  rule: z.string().max(60),
  about: z.string().max(60),
  answer: z.string().max(60),
})

/** The last answer to a question counts; the earlier ones stay on record. */
function decideAnswer(world: World, input: z.infer<typeof answering>, context: CommandContext): Decision {
  const { appointmentId, rule, about, answer } = input
  if (isUnknown(world, appointmentId)) return missing(appointmentId)
  const allowed = isAnsweredRule(rule) ? [...answersOf(rule)] : []
  if (!allowed.includes(answer)) {
    return refuse({ rule: 'choice/answer-unknown', level: 'stop', about: rule, answer, allowed })
  }
  const choice = choiceOf(world, appointmentId, context)
  const given = { rule, about, answer, by: context.by.id, at: context.now }
  return ok({
    change: putting('isolationChoice', { ...choice, answers: [...choice.answers, given] }),
    findings: [],
  })
}

export const ISOLATION_COMMANDS = {
  ...ISOLATION_CLINIC_COMMANDS,
  ...CHAIR_COMMANDS,
  'isolation.choose': commandRule({
    kind: 'isolation.choose',
    needs: 'plan:choose',
    input: choosing,
    reach: withIt,
    decide: decideChoose,
  }),
  'isolation.answer': commandRule({
    kind: 'isolation.answer',
    needs: 'plan:choose',
    input: answering,
    reach: withIt,
    decide: decideAnswer,
  }),
}

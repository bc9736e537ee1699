import { z } from 'zod'
import { ok, refuse } from '../base/result.ts'
import { putting } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import { type AppointmentId, type AsPlacedId, type IsolationChoiceId, parseId } from '../ids.ts'
import { TEETH } from '../teeth/tooth.ts'
import { openChoice } from './choice.ts'
import { SEQUENCES } from './clamps.ts'
import { ISOLATION_CLINIC_COMMANDS } from './clinic-commands.ts'
import {
  ALTERNATIVE_METHODS,
  CLAMP_FAMILIES,
  FIELD_POLICY_IDS,
  type IsolationChoice,
  SHEET_MATERIALS,
} from './isolation-facts.ts'
import { judgePlacing, judgeRemoval, newestPlan, placedOf } from './process.ts'
import { answersOf, isAnsweredRule } from './questions.ts'

const id = <Id extends string>() =>
  z.custom<Id>((value) => typeof value === 'string' && parseId(value) !== null, 'not an id')
const theAppointment = z.object({ appointmentId: id<AppointmentId>() })
const withIt = ({ appointmentId }: { appointmentId: AppointmentId }) => ({ appointments: [appointmentId] })
const tooth = z.enum(TEETH)
const count = z.int().min(0).max(99)

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

const clamp = z.object({
  tooth,
  family: z.enum(CLAMP_FAMILIES),
  role: z.enum(['anchor', 'second', 'retractor']),
})
const placing = theAppointment.extend({
  planNumber: z.int().min(1),
  field: z.array(tooth).min(1).max(16),
  clamps: z.array(clamp).max(8),
  sequence: z.enum(SEQUENCES),
  /** Floss through both holes of every clamp before it neared the mouth. */
  tied: z.boolean(),
  /** No rust, crack or bend seen on any clamp. */
  inspected: z.boolean(),
  bow: z.enum(['back', 'front']),
  minutes: z.int().min(0).max(240).nullable(),
  outcome: z.object({
    leak: z.boolean(),
    tear: z.boolean(),
    retries: count,
    gum: z.enum(['sound', 'marked', 'injured', 'not-looked']),
  }),
})

function decidePlaced(world: World, input: z.infer<typeof placing>, context: CommandContext): Decision {
  const { appointmentId } = input
  const plan = newestPlan(world, appointmentId)
  if (!plan) return missing(appointmentId)
  const faults = judgePlacing(world, input, { plan, by: context.by })
  if (faults.length > 0) return refuse(...faults)
  const known = placedOf(world, appointmentId)
  return ok({
    change: putting('asPlaced', {
      clinicId: context.clinicId,
      id: known?.id ?? context.newId<AsPlacedId>(),
      appointmentId,
      planNumber: input.planNumber,
      field: input.field,
      clamps: input.clamps,
      minutes: input.minutes,
      outcome: input.outcome,
      by: context.by.id,
      at: context.now,
    }),
    findings: [],
  })
}

const removing = theAppointment.extend({
  holesWhole: count,
  septaCut: count,
  clamps: count,
  ligaturesIn: count,
  ligatures: count,
  sheetPieces: count,
  /** A piece not found; `explained` only by who may give the word. */
  fragment: z.enum(['none-missing', 'missing', 'explained']),
  gum: z.enum(['sound', 'marked', 'injured']),
  needles: count,
  files: count,
  blades: count,
})

/** What went in must come out. The counts are kept with the visit, the state of the gum with what was placed. */
function decideRemoved(world: World, input: z.infer<typeof removing>, context: CommandContext): Decision {
  const { appointmentId } = input
  const placed = placedOf(world, appointmentId)
  const plan = newestPlan(world, appointmentId)
  const visit = world.visit.find((one) => one.appointmentId === appointmentId)
  if (!placed || !plan || !visit) {
    return refuse({ rule: 'dam/not-placed', level: 'stop', about: `appointment:${appointmentId}` })
  }
  const faults = judgeRemoval(input, { placed, plan, by: context.by })
  if (faults.length > 0) return refuse(...faults)
  const { clamps, sheetPieces, ligatures, needles, files, blades } = input
  const stamp = { by: context.by.id, at: context.now }
  const counts = { clamps, sheetPieces, ligatures, needles, files, blades, ...stamp }
  return ok({
    change: {
      put: {
        visit: [{ ...visit, counts }],
        asPlaced: [{ ...placed, outcome: { ...placed.outcome, gum: input.gum } }],
      },
      remove: {},
    },
    findings: [],
  })
}

export const ISOLATION_COMMANDS = {
  ...ISOLATION_CLINIC_COMMANDS,
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
  'dam.placed': commandRule({
    kind: 'dam.placed',
    needs: 'dam:place',
    input: placing,
    reach: withIt,
    decide: decidePlaced,
  }),
  'dam.removed': commandRule({
    kind: 'dam.removed',
    needs: 'dam:place',
    input: removing,
    reach: withIt,
    decide: decideRemoved,
  }),
}

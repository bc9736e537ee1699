import { z } from 'zod'
import { type Instant, instant } from '../base/moment.ts'
import { ok, refuse } from '../base/result.ts'
import { type Change, joinChanges, nothing, putting } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { AppointmentId, AsPlacedId, GuideId } from '../ids.ts'
import { id } from '../inputs.ts'
import { chartFor } from '../teeth/chart-for.ts'
import { type ClampSite, GUM_STATES, type GumState } from '../teeth/mouth-chart.ts'
import { archOf, TEETH, type Tooth } from '../teeth/tooth.ts'
import { GUIDE_PARTS, type GuideTick, STEP_NAMES } from './guide-facts.ts'
import { type AgreedClamp, type AsPlaced, CLAMP_FAMILIES, type Plan, SEQUENCES } from './isolation-facts.ts'
import { guideOf, judgeNeedles, judgePlacing, judgeRemoval, newestPlan, placedOf } from './process.ts'

const theAppointment = z.object({
  appointmentId: id<AppointmentId>(),
})
const withIt = ({ appointmentId }: { appointmentId: AppointmentId }) => ({ appointments: [appointmentId] })
const tooth = z.enum(TEETH)
const count = z.int().min(0).max(99)
const missing = (appointmentId: AppointmentId): Decision =>
  refuse({ rule: 'plan/missing', level: 'stop', about: `appointment:${appointmentId}` })

const clamp = z.object({
  tooth,
  family: z.enum(CLAMP_FAMILIES),
  role: z.enum(['anchor', 'second', 'retractor']),
})
const placing = theAppointment.extend({
  planNumber: z.int().min(1),
  /** Each sheet as it went on. */
  sheets: z
    .array(
      z.object({
        field: z.array(tooth).min(1).max(16),
        clamps: z.array(clamp).max(8),
        sequence: z.enum(SEQUENCES),
      }),
    )
    .min(1)
    .max(4),
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
    gum: z.enum([...GUM_STATES, 'not-looked']),
  }),
})

function decidePlaced(world: World, input: z.infer<typeof placing>, context: CommandContext): Decision {
  const { appointmentId } = input
  const plan = newestPlan(world, appointmentId)
  if (!plan) return missing(appointmentId)
  const faults = judgePlacing(world, input, { plan, by: context.by })
  if (faults.length > 0) return refuse(...faults)
  const known = placedOf(world, appointmentId)
  const clamps = input.sheets.flatMap((sheet) => sheet.clamps)
  const placed: AsPlaced = {
    clinicId: context.clinicId,
    id: known?.id ?? context.newId<AsPlacedId>(),
    appointmentId,
    planNumber: input.planNumber,
    field: input.sheets.flatMap(({ field }) => field),
    clamps,
    sheets: input.sheets,
    minutes: input.minutes,
    outcome: input.outcome,
    by: context.by.id,
    at: context.now,
  }
  const { gum } = input.outcome
  const change = joinChanges(
    putting('asPlaced', placed),
    chartSites(
      world,
      {
        appointmentId,
        sites: { ...passedOver(plan, clamps), ...(gum === 'not-looked' ? {} : leftBy(clamps, gum)) },
      },
      context,
    ),
  )
  return ok({ change, findings: [] })
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
  gum: z.enum(GUM_STATES),
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
  const faults = [...judgeRemoval(input, { placed, plan, by: context.by }), ...judgeNeedles(world, input)]
  if (faults.length > 0) return refuse(...faults)
  const { clamps, sheetPieces, ligatures, needles, files, blades } = input
  const stamp = { by: context.by.id, at: context.now }
  const counts = { clamps, sheetPieces, ligatures, needles, files, blades, ...stamp }
  const { gum } = input
  const change = joinChanges(
    putting('visit', { ...visit, counts }),
    putting('asPlaced', { ...placed, outcome: { ...placed.outcome, gum } }),
    chartSites(world, { appointmentId, sites: leftBy(placed.clamps, gum) }, context),
  )
  return ok({ change, findings: [] })
}

type Sites = Partial<Record<Tooth, Pick<ClampSite, 'gum' | 'instead'>>>

/** How the gum was left under each clamp. */
const leftBy = (clamps: readonly AgreedClamp[], gum: GumState): Sites =>
  Object.fromEntries(clamps.map((clamp) => [clamp.tooth, { gum }]))

/** Teeth that were to be clamped and were not, with those of their jaw that were. */
function passedOver(plan: Plan, clamps: readonly AgreedClamp[]): Sites {
  const put = clamps.map(({ tooth }) => tooth)
  const planned = plan.agreed.sheets.flatMap((sheet) => sheet.clamps.map(({ tooth }) => tooth))
  return Object.fromEntries(
    planned
      .filter((tooth) => !put.includes(tooth))
      .map((tooth) => [
        tooth,
        { gum: null, instead: put.filter((other) => archOf(other) === archOf(tooth)) },
      ]),
  )
}

/** What became of each clamp's place stays with the mouth, so that the next plan tells it. */
function chartSites(
  world: World,
  { appointmentId, sites }: { appointmentId: AppointmentId; sites: Sites },
  context: CommandContext,
): Change {
  const patient = findFact(world, 'patient', findFact(world, 'appointment', appointmentId)?.patientId ?? null)
  if (!patient || Object.keys(sites).length === 0) return nothing
  const chart = chartFor(world, patient.id, context)
  const stamp = { day: context.today, by: context.by.id, at: context.now }
  const told = Object.fromEntries(
    Object.entries(sites).map(([tooth, site]) => [tooth, { ...site, ...stamp }]),
  )
  return putting('mouthChart', { ...chart, clampSites: { ...chart.clampSites, ...told } })
}

const ticking = theAppointment.extend({
  planNumber: z.int().min(1),
  part: z.enum(GUIDE_PARTS),
  /** Which sheet of the sitting, from 1. */
  sheet: z.int().min(1).max(4),
  step: z.enum(STEP_NAMES),
  /** False takes the step back. */
  done: z.boolean(),
  /** When it was touched, by the clinic's clock: a screen that was cut off tells it later. */
  at: z.custom<Instant>((value) => Number.isSafeInteger(value), 'not an instant'),
})

/** A step told twice keeps the time of its first touch; nothing is ticked in the future, nor on a plan that moved on. */
function decideTick(world: World, input: z.infer<typeof ticking>, context: CommandContext): Decision {
  const { appointmentId, planNumber, part, sheet, step, done } = input
  const plan = newestPlan(world, appointmentId)
  if (!plan) return missing(appointmentId)
  if (plan.number !== planNumber) {
    const about = `appointment:${appointmentId}`
    return refuse({ rule: 'plan/stale', level: 'stop', about, sent: planNumber, stands: plan.number })
  }
  const known = guideOf(world, appointmentId)
  const ticks = known?.ticks ?? []
  const isIt = (tick: GuideTick): boolean =>
    tick.planNumber === planNumber && tick.part === part && tick.sheet === sheet && tick.step === step
  if (done && ticks.some(isIt)) return ok({ change: nothing, findings: [] })
  const at = instant(Math.min(input.at, context.now))
  const told: GuideTick = { planNumber, part, sheet, step, at, by: context.by.id }
  return ok({
    change: putting('guide', {
      clinicId: context.clinicId,
      id: known?.id ?? context.newId<GuideId>(),
      appointmentId,
      ticks: done ? [...ticks, told] : ticks.filter((tick) => !isIt(tick)),
    }),
    findings: [],
  })
}

export const CHAIR_COMMANDS = {
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
  'guide.tick': commandRule({
    kind: 'guide.tick',
    needs: 'dam:place',
    input: ticking,
    reach: withIt,
    decide: decideTick,
  }),
}

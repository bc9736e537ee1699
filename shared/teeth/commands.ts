import { z } from 'zod'
import { ageInYears } from '../base/moment.ts'
import { ok, refuse } from '../base/result.ts'
import { putting } from '../change.ts'
import { type CommandContext, commandRule, type Decision } from '../command.ts'
import { findFact, type World } from '../facts.ts'
import type { Finding } from '../finding.ts'
import type { AppointmentId } from '../ids.ts'
import { id, saw } from '../inputs.ts'
import { spanWidth } from '../isolation/arch.ts'
import { judgeShown, shownMouth } from '../readiness/shown.ts'
import { chartFor } from './chart-for.ts'
import { mouthOf } from './mouth.ts'
import { type MouthChart, TOOTH_CONDITIONS, type ToothCondition } from './mouth-chart.ts'
import { archOf, TEETH } from './tooth.ts'

const appointmentId = id<AppointmentId>()
const chartInput = z.object({
  appointmentId,
  tooth: z.enum(TEETH),
  /** What is seen of this tooth; none takes its entry back. */
  conditions: z.array(z.enum(TOOTH_CONDITIONS)).max(TOOTH_CONDITIONS.length),
})
type ChartInput = z.infer<typeof chartInput>
const standInput = z.object({ appointmentId, saw })

function decideChart(world: World, input: ChartInput, context: CommandContext): Decision {
  const found = findChart(world, input.appointmentId, context)
  if ('rule' in found) return refuse(found)
  const conditions = [...new Set(input.conditions)]
  if (contradictsItself(conditions)) {
    const about = `tooth:${input.tooth}`
    return refuse({ rule: 'mouth/contradicts-itself', level: 'stop', about, tooth: input.tooth, conditions })
  }
  const { [input.tooth]: _, ...others } = found.teeth
  const entry = { [input.tooth]: { conditions, by: context.by.id, at: context.now } }
  const teeth = conditions.length > 0 ? { ...others, ...entry } : others
  return ok({ change: putting('mouthChart', { ...found, teeth }), findings: [] })
}

const NOT_THERE: readonly ToothCondition[] = ['missing', 'unerupted', 'pontic']
/** Of what is not there nothing else can be said, nor two ways of not being there. */
const contradictsItself = (conditions: readonly ToothCondition[]): boolean =>
  conditions.some((condition) => NOT_THERE.includes(condition)) && conditions.length > 1

/** One touch: everything stands as drawn. */
function decideStand(world: World, input: z.infer<typeof standInput>, context: CommandContext): Decision {
  const found = findChart(world, input.appointmentId, context)
  if ('rule' in found) return refuse(found)
  const about = `patient:${found.patientId}`
  const moved = judgeShown(input.saw, { stands: shownMouth(found), what: 'mouth', about })
  if (moved.length > 0) return refuse(...moved)
  const charted = { by: context.by.id, at: context.now }
  return ok({ change: putting('mouthChart', { ...found, charted }), findings: [] })
}

/** The patient's chart, an empty one where there is none yet, or why there can be none. */
function findChart(world: World, id: AppointmentId, context: CommandContext): MouthChart | Finding {
  const appointment = findFact(world, 'appointment', id)
  const about = `appointment:${id}`
  if (!appointment) return { rule: 'appointment/unknown', level: 'stop', about, id }
  const patient = findFact(world, 'patient', appointment.patientId)
  if (!patient) return { rule: 'mouth/no-patient', level: 'stop', about }
  return chartFor(world, patient.id, context)
}

/** A crown this far from the table's is a slip of the hand, not a mouth (COMMON). */
const LIKELY = { least: 0.7, most: 1.35 }

const measureInput = z.object({
  appointmentId,
  tooth: z.enum(TEETH),
  /** The last tooth of a row that was measured along the arch; left out: the one crown. */
  to: z.enum(TEETH).nullable().default(null),
  /** From outer contact to outer contact; null takes the measure back. */
  tenthsOfMm: z.int().min(1).max(1500).nullable(),
})

/** One crown, or a row of them, measured scales the drawing to this mouth. */
function decideMeasure(world: World, input: z.infer<typeof measureInput>, context: CommandContext): Decision {
  const found = findChart(world, input.appointmentId, context)
  if ('rule' in found) return refuse(found)
  const { tooth, to, tenthsOfMm } = input
  if (tenthsOfMm === null)
    return ok({ change: putting('mouthChart', { ...found, measure: null }), findings: [] })
  const about = `tooth:${tooth}`
  const row = mouthOf(found, { ageYears: ageAt(world, input.appointmentId), worked: [tooth] }).standingRow(
    archOf(tooth),
  )
  const table = spanWidth(row, { tooth, to })
  if (table === null) {
    return refuse({ rule: 'mouth/span-not-there', level: 'stop', about, tooth, to: to ?? tooth })
  }
  const tableTenths = Math.round(table * 10)
  const ratio = tenthsOfMm / tableTenths
  if (ratio < LIKELY.least || ratio > LIKELY.most) {
    return refuse({ rule: 'mouth/width-unlikely', level: 'stop', about, tooth, tenthsOfMm, tableTenths })
  }
  const measure = { tooth, to, tenthsOfMm, by: context.by.id, at: context.now }
  return ok({ change: putting('mouthChart', { ...found, measure }), findings: [] })
}

function ageAt(world: World, id: AppointmentId): number | null {
  const appointment = findFact(world, 'appointment', id)
  const patient = findFact(world, 'patient', appointment?.patientId ?? null)
  return appointment ? ageInYears(patient?.born ?? null, appointment.day) : null
}

const reach = (input: { appointmentId: AppointmentId }) => ({ appointments: [input.appointmentId] })

export const TEETH_COMMANDS = {
  'mouth.measure': commandRule({
    kind: 'mouth.measure',
    needs: 'patient:chart',
    input: measureInput,
    reach,
    decide: decideMeasure,
  }),
  'mouth.chart': commandRule({
    kind: 'mouth.chart',
    needs: 'patient:chart',
    input: chartInput,
    reach,
    decide: decideChart,
  }),
  'mouth.stand-as-drawn': commandRule({
    kind: 'mouth.stand-as-drawn',
    needs: 'patient:chart',
    input: standInput,
    reach,
    decide: decideStand,
  }),
}

import { ageInYears } from '../base/moment.ts'
import { findFact, type World } from '../facts.ts'
import type { AppointmentId } from '../ids.ts'
import type { Appointment } from '../schedule/appointment.ts'
import { type Mouth, mouthOf } from '../teeth/mouth.ts'
import type { MouthChart } from '../teeth/mouth-chart.ts'
import { archOf } from '../teeth/tooth.ts'
import { spanWidth } from './arch.ts'
import { judgeStock } from './clamp-stock.ts'
import type { FieldPolicyId, IsolationChoice } from './isolation-facts.ts'
import { judgeClampSites } from './past.ts'
import { planIsolation } from './plan.ts'
import type { IsolationPlan, PlanRequest } from './plan-types.ts'
import { DEFAULT_ISOLATION_POLICY } from './policy.ts'

export type { IsolationPlan } from './plan-types.ts'

/** The plan of an appointment as the world makes it; null where the world does not hold the appointment. Pure and total. */
export function planFor(world: World, appointmentId: AppointmentId): IsolationPlan | null {
  const appointment = findFact(world, 'appointment', appointmentId)
  return appointment ? withTold(planIsolation(requestFor(world, appointment)), { world, appointment }) : null
}

/**
 * What the clinic's own stock cannot give, and how earlier clamps left the gum, are told beside the plan; what is
 * agreed to does not hang on them.
 */
function withTold(
  plan: IsolationPlan,
  { world, appointment }: { world: World; appointment: Appointment },
): IsolationPlan {
  const clamps = plan.sheets.flatMap((sheet) => sheet.clamps)
  const chart = world.mouthChart.find((one) => one.patientId === appointment.patientId)
  const told = [
    ...judgeStock(clamps, world.policySet[0]?.clamps ?? null),
    ...judgeClampSites(
      chart?.clampSites,
      clamps.map(({ tooth }) => tooth),
    ),
  ]
  return told.length === 0 ? plan : { ...plan, findings: [...plan.findings, ...told] }
}

/** The same mouth and work under another field policy, to be laid beside the plan; null for the clinic's own. Nothing is chosen. */
export function planUnder(
  world: World,
  appointmentId: AppointmentId,
  policy: FieldPolicyId | null,
): IsolationPlan | null {
  const appointment = findFact(world, 'appointment', appointmentId)
  if (!appointment) return null
  const request = requestFor(world, appointment)
  return planIsolation({ ...request, choice: { ...request.choice, policy, alternative: null } })
}

/** What the planner is asked for an appointment. */
export function requestFor(world: World, appointment: Appointment): PlanRequest {
  const { patientId } = appointment
  const patient = findFact(world, 'patient', patientId)
  const work = world.work
    .filter((one) => one.appointmentId === appointment.id)
    .sort((a, b) => a.position - b.position || (a.id < b.id ? -1 : 1))
  const chart = world.mouthChart.find((one) => one.patientId === patientId) ?? null
  const record = world.allergyRecord.find((one) => one.patientId === patientId)
  const mouth = mouthOf(chart, {
    ageYears: ageInYears(patient?.born ?? null, appointment.day),
    worked: work.flatMap(({ teeth }) => teeth),
  })
  return {
    work: work.map(({ kind, teeth, surfaces }) => ({ kind, teeth, surfaces })),
    mouth,
    policy: policyOf(world, appointment),
    latex: record?.latex ?? 'not-asked',
    choice: choiceOf(world.isolationChoice.find((one) => one.appointmentId === appointment.id)),
    notes: [
      ...(patient?.history ?? []).map(({ text }) => text),
      ...work.map(({ text }) => text),
      ...(appointment.note === '' ? [] : [appointment.note]),
    ],
    sheet: null,
    measure: chart ? measureOf(chart, mouth) : 1,
  }
}

/** The clinic's picks, with those of the appointment's dentist where they have their own. */
function policyOf(world: World, { dentistId }: Appointment): PlanRequest['policy'] {
  const [set] = world.policySet
  const policy = set?.isolation ?? DEFAULT_ISOLATION_POLICY
  const own = set?.ofDentists?.find((each) => each.dentistId === dentistId)
  return own ? { ...policy, field: { ...policy.field, ...own.field } } : policy
}

/** This patient's arch against the table's, by the crown or the row that was measured; 1 where none was. */
function measureOf({ measure }: MouthChart, mouth: Mouth): number {
  if (!measure) return 1
  const { tooth, to = null, tenthsOfMm } = measure
  const table = spanWidth(mouth.standingRow(archOf(tooth)), { tooth, to })
  // A tooth that was measured and is gone since is nothing to go by.
  return table === null ? 1 : tenthsOfMm / 10 / table
}

const choiceOf = (choice: IsolationChoice | undefined): PlanRequest['choice'] => ({
  policy: choice?.policy ?? null,
  anchors: choice?.anchors ?? [],
  sheetMaterial: choice?.sheetMaterial ?? null,
  alternative: choice?.alternative ?? null,
  answers: choice?.answers ?? [],
})

import { applyChange, type Change, joinChanges, putting } from './change.ts'
import type { CommandContext } from './command.ts'
import type { FactName, World } from './facts.ts'
import type { AppointmentId, PlanId } from './ids.ts'
import type { Agreed, Plan } from './isolation/isolation-facts.ts'
import { planFor } from './isolation/plan-for.ts'
import { findAppointment, indexDay } from './readiness/day-index.ts'
import { findFailedPacks, lapseCausesOf, lapseWord } from './readiness/lapse.ts'
import { type Appointment, isOver } from './schedule/appointment.ts'
import { trayFor } from './trays/tray-for.ts'

/**
 * All that follows from a change, joined with it: new plans where what the dentist must agree to differs, words
 * that lapse, trays drawn anew. Pure, and touches only appointments the change reaches and that are not over.
 */
export function followThrough(before: World, change: Change, context: CommandContext): Change {
  const changed = applyChange(before, change)
  const touched = appointmentsTouched(before, change, changed)
  if (touched.length === 0) return change
  const open = touched.filter((appointment) => !isOver(appointment.status)).map(({ id }) => id)
  const plans = joinChanges(...open.map((id) => replan(changed, id, context)))
  const planned = applyChange(changed, plans)
  const lapses = lapseWords({ before, after: planned, touched: open }, context)
  const trays = joinChanges(...touched.map(({ id }) => trayFor(planned, id, context)))
  return joinChanges(change, plans, lapses, trays)
}

/**
 * Appointments that a change reaches: directly, also where they are called off by it; and through patient, tray,
 * pack, kit or policy where they are not over.
 */
export function appointmentsTouched(before: World, change: Change, after: World): Appointment[] {
  const isOpen = (appointment: Appointment): boolean => !isOver(appointment.status)
  if (ALL_REACHING.some((name) => isTouched(change, name))) return after.appointment.filter(isOpen)
  const touched = new Set<string>()
  const patients = new Set<string>()
  const packs = new Set<string>()
  const trays = new Set<string>()
  for (const fact of factsTouched(before, change)) {
    if (fact.name === 'appointment') touched.add(fact.id)
    else if (fact.name === 'patient') patients.add(fact.id)
    else if (fact.name === 'pack') packs.add(fact.id)
    else if (fact.appointmentId != null) touched.add(fact.appointmentId)
    else if (fact.trayId !== undefined) trays.add(fact.trayId)
    else if (fact.patientId !== undefined) patients.add(fact.patientId)
  }
  for (const world of [before, after]) {
    for (const line of world.trayLine) if (line.packId && packs.has(line.packId)) trays.add(line.trayId)
    for (const tray of world.tray) if (trays.has(tray.id)) touched.add(tray.appointmentId)
  }
  return after.appointment.filter(
    (each) => touched.has(each.id) || (patients.has(each.patientId) && isOpen(each)),
  )
}

/** Facts that bear on every appointment. */
const ALL_REACHING: readonly FactName[] = ['policySet', 'kit']
const isTouched = (change: Change, name: FactName): boolean =>
  (change.put[name]?.length ?? 0) > 0 || (change.remove[name]?.length ?? 0) > 0

interface Touched {
  name: FactName
  id: string
  appointmentId?: AppointmentId | null
  patientId?: string
  trayId?: string
}

/** Every fact a change puts, and every fact it removes or replaces as it stood. */
function factsTouched(before: World, change: Change): Touched[] {
  const names = Object.keys({ ...change.put, ...change.remove }) as FactName[]
  return names.flatMap((name) => {
    const put = (change.put[name] ?? []) as Omit<Touched, 'name'>[]
    const ids = new Set([...put.map(({ id }) => id), ...(change.remove[name] ?? [])])
    const stood = (before[name] as Omit<Touched, 'name'>[]).filter(({ id }) => ids.has(id))
    return [...put, ...stood].map((fact) => ({ ...fact, name }))
  })
}

/** The plan of an appointment as the world makes it, under the next number where it differs from the one that stands. */
function replan(world: World, id: AppointmentId, context: CommandContext): Change {
  const made = planFor(world, id)
  const standing = newestPlan(world.plan, id)
  if (made === null || standing?.digest === made.version) return { put: {}, remove: {} }
  return putting('plan', {
    clinicId: context.clinicId,
    id: standing?.id ?? context.newId<PlanId>(),
    appointmentId: id,
    number: (standing?.number ?? 0) + 1,
    digest: made.version,
    agreed: made.agreed satisfies Agreed,
  })
}

const newestPlan = (plans: readonly Plan[], id: AppointmentId): Plan | null =>
  plans.reduce<Plan | null>(
    (newest, plan) => (plan.appointmentId === id && plan.number > (newest?.number ?? 0) ? plan : newest),
    null,
  )

interface Step {
  before: World
  after: World
  touched: readonly AppointmentId[]
}

function lapseWords({ before, after, touched }: Step, { now }: CommandContext): Change {
  const days = { before: indexDay(before), after: indexDay(after) }
  const words = touched.flatMap((id) => {
    const facts = findAppointment(days.after, id)
    if (!facts?.words.some((word) => word.life.kind === 'live')) return []
    const stood = findAppointment(days.before, id)
    const failedPacks = findFailedPacks({ before, after }, id)
    const [why] = stood ? lapseCausesOf({ before: stood, after: facts, failedPacks, now }) : []
    return facts.words
      .filter((word) => word.life.kind === 'live')
      .flatMap((word) => {
        const isNew = !stood?.words.some((each) => each.id === word.id)
        const stale = word.planDigest !== facts.plan?.digest
        const cause = stale ? (why ?? 'plan-changed') : isNew ? undefined : why
        return cause ? [lapseWord(word, { after: facts, now }, cause)] : []
      })
  })
  return putting('word', ...words)
}

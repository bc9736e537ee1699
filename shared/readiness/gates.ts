import type { PlannedDose } from '../anaesthesia/anaesthetic.ts'
import { solutionKey } from '../anaesthesia/cartridge.ts'
import { leftToGive } from '../anaesthesia/left-to-give.ts'
import type { Instant } from '../base/moment.ts'
import { GATES, type Gate } from '../base/rule.ts'
import type { Plan } from '../isolation/isolation-facts.ts'
import { CATALOGUE } from '../procedures/catalogue.ts'
import type { VisitStage } from '../schedule/appointment.ts'
import { VISIT_STAGES } from '../schedule/appointment.ts'
import type { AppointmentFacts } from './day-index.ts'

export const stageOf = (facts: AppointmentFacts): VisitStage => {
  if (facts.visit) return facts.visit.stage
  return facts.appointment.status === 'arrived' || facts.appointment.status === 'checked-in'
    ? 'arrived'
    : 'expected'
}
export const isBefore = (stage: VisitStage, other: VisitStage): boolean =>
  VISIT_STAGES.indexOf(stage) < VISIT_STAGES.indexOf(other)
export const isGateBefore = (gate: Gate, other: Gate): boolean => GATES.indexOf(gate) < GATES.indexOf(other)

/** The stage a gate opens onto. */
export const STAGE_BEYOND: Record<Gate, VisitStage> = {
  seat: 'seated',
  inject: 'injected',
  clamp: 'clamped',
  start: 'started',
  leave: 'left',
}

/** Whether something is to be agreed: a dam, or another way to keep the field dry. */
export const needsWord = (plan: Plan | null): boolean => plan !== null && plan.agreed.state !== 'not-needed'
export const needsDam = (plan: Plan | null): boolean =>
  plan !== null &&
  plan.agreed.state !== 'not-needed' &&
  plan.agreed.state !== 'alternative' &&
  (plan.agreed.state !== 'undetermined' || plan.agreed.sheets.length > 0)

/** The gates on this appointment's way, in order. An injection not ruled out keeps its gate. */
export const gatesOf = (facts: AppointmentFacts): Gate[] => wayOf(facts).gates

/** The next gate, or null after the last. */
export const nextGate = (facts: AppointmentFacts): Gate | null => wayOf(facts).next

interface Way {
  gates: Gate[]
  next: Gate | null
}
const KNOWN_WAYS = new WeakMap<AppointmentFacts, Way>()

function wayOf(facts: AppointmentFacts): Way {
  const known = KNOWN_WAYS.get(facts)
  if (known) return known
  const gates = GATES.filter((gate) => {
    if (gate === 'inject') return expectsInjection(facts)
    if (gate === 'clamp') return needsDam(facts.plan)
    return true
  })
  const stage = stageOf(facts)
  const isOver = (gate: Gate): boolean =>
    !isBefore(stage, STAGE_BEYOND[gate]) || (gate === 'inject' && stage === 'seated' && isAllGiven(facts))
  const way = { gates, next: gates.find((gate) => !isOver(gate)) ?? null }
  KNOWN_WAYS.set(facts, way)
  return way
}

/** Whether the gate's act is due: the patient stands before it and its time has come. */
export function isAtGate(facts: AppointmentFacts, gate: Gate, now: Instant): boolean {
  if (nextGate(facts) !== gate) return false
  const stage = stageOf(facts)
  if (gate === 'seat') return stage === 'arrived' && now >= facts.appointment.start
  return gate !== 'leave' || stage === 'finished'
}

/** What is laid on is no injection. */
export const isInjected = ({ technique }: Pick<PlannedDose, 'technique'>): boolean => technique !== 'topical'

/** Whether something is in, and nothing more of the plan is left: who comes back to the chair needs no needle. */
export const isAllGiven = ({ anaesthetic, doses }: AppointmentFacts): boolean => {
  const given = doses.filter(isInjected)
  const planned = (anaesthetic?.planned ?? []).filter(isInjected)
  return given.length > 0 && leftToGive(planned, given, solutionKey).length === 0
}

/** Intended, or not ruled out and usual for some of the work. */
export function expectsInjection({ anaesthetic, work, doses }: AppointmentFacts): boolean {
  if (doses.some(isInjected)) return true
  const intent = anaesthetic?.intent.kind ?? 'undecided'
  if (intent !== 'undecided') return intent === 'injection'
  return work.some(({ kind }) => kind === 'undetermined' || CATALOGUE[kind].anaesthesia === 'usual')
}

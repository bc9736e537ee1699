import { type Minutes, minutesBetween } from '#shared/base/moment.ts'
import type { GuidePart, GuideTick, StepName } from '#shared/isolation/guide-facts.ts'
import type { IsolationPlan, PlannedSheet } from '#shared/isolation/plan-types.ts'
import { listPlacement, listRemoval, type Step, stepsFor } from '#shared/isolation/steps.ts'

export type Part = GuidePart
export type Tick = GuideTick

/** One step as it is done at the chair. The key tells it from the same step of another sheet. */
export interface GuideStep {
  key: string
  step: Step
  sheet: PlannedSheet
  /** Which sheet of the sitting, from 1. */
  number: number
}

/** Ticks of one part, made on the plan that stands. */
export const isTickOf =
  (of: { planNumber: number; part: Part }) =>
  ({ planNumber, part }: Tick): boolean =>
    planNumber === of.planNumber && part === of.part

/** Said and done once in a sitting, however many sheets it has. */
const ONCE: readonly StepName[] = ['tell-patient', 'choose-shade']

/** All steps of a sitting in order, sheet after sheet. */
export function listGuide(plan: IsolationPlan, part: Part): GuideStep[] {
  const list = part === 'placing' ? listPlacement : listRemoval
  return plan.sheets.flatMap((sheet, index) =>
    list(stepsFor(plan, sheet))
      .filter(({ name }) => index === 0 || !ONCE.includes(name))
      .map((step) => ({ key: `${part} ${index + 1} ${step.name}`, step, sheet, number: index + 1 })),
  )
}

/** The first step that is not done; null when all are. */
export const nextOf = (steps: readonly GuideStep[], ticks: readonly Tick[]): GuideStep | null =>
  steps.find((each) => !isTicked(each, ticks)) ?? null

export const tickOf = ({ number, step }: GuideStep, ticks: readonly Tick[]): Tick | null =>
  ticks.find((tick) => tick.sheet === number && tick.step === step.name) ?? null

export const isTicked = (step: GuideStep, ticks: readonly Tick[]): boolean => tickOf(step, ticks) !== null

/** Whole minutes from the first step done to the last; null where nothing is done. */
export function minutesOf(ticks: readonly Pick<Tick, 'at'>[]): Minutes | null {
  const at = ticks.map((tick) => tick.at).sort((a, b) => a - b)
  const [first, last] = [at[0], at.at(-1)]
  return first === undefined || last === undefined ? null : minutesBetween(first, last)
}

/** Whether a step was done for every sheet that has it. False where no sheet has it. */
export function isDone(name: StepName, steps: readonly GuideStep[], ticks: readonly Tick[]): boolean {
  const all = steps.filter(({ step }) => step.name === name)
  return all.length > 0 && all.every((each) => isTicked(each, ticks))
}

/** The steps at which the sheet first goes on: the gate of the clamp. */
const CARRYING: readonly StepName[] = [
  'carry-together',
  'clamp-then-sheet',
  'sheet-then-clamp',
  'sheet-by-floss',
]
export const isCarrying = ({ step }: GuideStep): boolean => CARRYING.includes(step.name)

/** Steps that are better seen than read: the sheet is drawn beside them. */
const ON_SHEET: readonly StepName[] = [
  'punch-clean',
  'mark-in-mouth',
  'cut-slit',
  ...CARRYING,
  'far-end-first',
  'far-end-tied',
  'far-end-wedged',
  'tooth-by-tooth',
]
export const showsSheet = ({ step }: GuideStep): boolean => ON_SHEET.includes(step.name)

import { COMMON, read, type Source } from '../base/source.ts'
import type { Tooth } from '../teeth/tooth.ts'
import type { EndHold } from './ends.ts'
import { isEndodontic } from './field.ts'
import type { StepName } from './guide-facts.ts'
import type { PlacingPick, Sequence } from './isolation-facts.ts'
import type { IsolationPlan, PlannedSheet } from './plan-types.ts'

/** The order of placing and of taking off. Each step is one thing, said in words by its name. */
export const STEPS = {
  'tell-patient': COMMON,
  'tooth-aloud': COMMON,
  'mark-occlusion': read('study cards'),
  'choose-shade': read('restatement of Sturdevant'),
  'floss-contacts': read('G. V. Black 1908 p 70; McGehee'),
  'punch-clean': read('Carrotte 2004; Scolavino & Paolone'),
  'mark-in-mouth': read('Carrotte 2004 fig 3'),
  'cut-slit': read('JADA, simplified rubber-dam technique'),
  'lubricate-optional': read('gold-foil sheet; assisting cards'),
  'tie-floss': read('Hottel Q&A'),
  'try-clamp': read('Carrotte 2004'),
  'carry-together': read('Dental Update pt 2'),
  'clamp-then-sheet': read('Scolavino & Paolone; Dental Update pt 2'),
  'sheet-then-clamp': read('Carrotte 2004, rubber first'),
  'sheet-by-floss': read('Carrotte 2004, everting margins'),
  'inner-jaw-first': read('Hottel Q&A; RDA; DASLE'),
  'no-gum-caught': read('Carrotte 2004; single-tooth page'),
  'bow-to-back': read('G. V. Black 1908; Hottel Q&A'),
  frame: COMMON,
  'floss-tail-under-frame': COMMON,
  'far-end-first': COMMON,
  'far-end-tied': read('Carrotte 2004; Davis 1917'),
  'far-end-wedged': read('JADA, simplified rubber-dam technique'),
  'tooth-by-tooth': COMMON,
  'tie-ligatures': read('Carrotte 2004; Davis 1917'),
  'seat-retractor': read('clamp study deck'),
  'tuck-edges': read('Carrotte 2004; Scolavino & Paolone fig 4-17; RDA'),
  seal: read('Carrotte 2004'),
  'leak-test': COMMON,
  'recount-through': COMMON,
  'check-pinch': COMMON,
  verify: read('RDA; teaching notes'),
  'take-out-ligatures': read('McGehee p 108'),
  'cut-septa': read('lecture study deck'),
  'take-off-clamp': read('lecture study deck'),
  'take-off-sheet': read('lecture study deck'),
  'lay-flat-count': read('RDA; lecture study deck'),
  'look-at-gum': read('Cervenka, J Endod 2023'),
} satisfies Record<StepName, Source>

export interface Step {
  name: StepName
  teeth: readonly Tooth[]
  /** How this clinic places, where words hang on it. */
  by: PlacingPick
}

export interface StepsFor {
  working: readonly Tooth[]
  field: readonly Tooth[]
  clamped: readonly Tooth[]
  farEnd: readonly Tooth[]
  farHold: Exclude<EndHold, 'clamp'>
  ligated: readonly Tooth[]
  retracted: readonly Tooth[]
  sequence: Sequence
  placing: PlacingPick
  isEndodontic: boolean
  isToothColoured: boolean
  isSlit: boolean
  marksInMouth: boolean
}

const CARRY: Record<Sequence, StepName> = {
  together: 'carry-together',
  'clamp-first': 'clamp-then-sheet',
  'dam-first': 'sheet-then-clamp',
}

const STEADY: Record<StepsFor['farHold'], StepName> = {
  cord: 'far-end-first',
  ligature: 'far-end-tied',
  wedge: 'far-end-wedged',
}

/** The steps of placing one sheet, in order. */
export function listPlacement(plan: StepsFor): Step[] {
  const hasClamp = plan.clamped.length > 0
  const isSingle = plan.field.length === 1
  const step = stepOf(plan)
  const steps: (Step | false)[] = [
    step('tell-patient'),
    step('tooth-aloud', plan.working),
    step('mark-occlusion', plan.working),
    plan.isToothColoured && step('choose-shade'),
    step('floss-contacts', plan.field),
    plan.marksInMouth ? step('mark-in-mouth', plan.field) : step('punch-clean', plan.field),
    plan.isSlit && step('cut-slit'),
    step('lubricate-optional'),
    hasClamp && step('tie-floss', plan.clamped),
    hasClamp && step('try-clamp', plan.clamped),
    step(hasClamp ? CARRY[plan.sequence] : 'sheet-by-floss', hasClamp ? plan.clamped : plan.field),
    hasClamp && step('inner-jaw-first', plan.clamped),
    hasClamp && step('no-gum-caught', plan.clamped),
    hasClamp && step('bow-to-back', plan.clamped),
    step('check-pinch'),
    step('frame'),
    hasClamp && step('floss-tail-under-frame', plan.clamped),
    !isSingle && plan.farEnd.length > 0 && step(STEADY[plan.farHold], plan.farEnd),
    !isSingle && step('tooth-by-tooth', plan.field),
    plan.ligated.length > 0 && step('tie-ligatures', plan.ligated),
    plan.retracted.length > 0 && step('seat-retractor', plan.retracted),
    step('tuck-edges', plan.field),
    (plan.isEndodontic || plan.isSlit) && step('seal', plan.clamped),
    plan.isEndodontic && step('leak-test'),
    step('recount-through', plan.working),
    step('verify'),
  ]
  return steps.filter((one) => one !== false)
}

/** The steps of taking it off. */
export function listRemoval(plan: StepsFor): Step[] {
  const step = stepOf(plan)
  const steps: (Step | false)[] = [
    plan.ligated.length > 0 && step('take-out-ligatures', plan.ligated),
    plan.field.length > 1 && !plan.isSlit && step('cut-septa', plan.field),
    plan.clamped.length > 0 && step('take-off-clamp', plan.clamped),
    step('take-off-sheet'),
    step('lay-flat-count', plan.field),
    step('look-at-gum', plan.clamped),
  ]
  return steps.filter((one) => one !== false)
}

/** What the steps of one sheet of a plan hang on. */
export function stepsFor(plan: IsolationPlan, sheet: PlannedSheet): StepsFor {
  const clampedBy = (isRetractor: boolean): Tooth[] =>
    sheet.clamps.filter(({ role }) => (role === 'retractor') === isRetractor).map(({ tooth }) => tooth)
  const kinds = plan.agreed.work
    .filter(({ teeth }) => teeth.some((tooth) => sheet.working.includes(tooth)))
    .map(({ kind }) => kind)
  const loose = sheet.ends.flatMap(({ tooth, hold }) => (hold === 'clamp' ? [] : [{ tooth, hold }]))
  return {
    working: sheet.working,
    field: sheet.field,
    clamped: clampedBy(false),
    retracted: clampedBy(true),
    farEnd: loose.map(({ tooth }) => tooth),
    farHold: loose.find(({ hold }) => hold !== 'cord')?.hold ?? 'cord',
    ligated: sheet.ligated.length > 0 ? sheet.ligated : endsBy(sheet, 'ligature'),
    sequence: sheet.sequence,
    placing: sheet.placing,
    isEndodontic: kinds.some((kind) => kind !== 'undetermined' && isEndodontic(kind)),
    isToothColoured: kinds.some((kind) => TOOTH_COLOURED.includes(kind)),
    isSlit: sheet.slit.length > 0,
    marksInMouth: sheet.markInMouth,
  }
}

const TOOTH_COLOURED: readonly string[] = [
  'direct-composite',
  'cervical-composite',
  'veneer',
  'bonded-indirect',
]
const endsBy = ({ ends, field }: PlannedSheet, hold: string): Tooth[] =>
  field.length === 1 ? [] : ends.filter((end) => end.hold === hold).map(({ tooth }) => tooth)

const stepOf =
  ({ placing }: StepsFor) =>
  (name: StepName, teeth: readonly Tooth[] = []): Step => ({ name, teeth, by: placing })

import type { AllergyRecord } from '../allergies/allergy-record.ts'
import type { Cited } from '../base/source.ts'
import type { PolicySet } from '../people/policy-set.ts'
import type { ProcedureFinding } from '../procedures/findings.ts'
import type { NeedOfIsolation, ProcedureKind } from '../procedures/work.ts'
import type { Mouth } from '../teeth/mouth.ts'
import type { Arch, Surface, Tooth } from '../teeth/tooth.ts'
import type { Caution } from './cautions.ts'
import type { FieldEnd } from './ends.ts'
import type { IsolationFinding } from './findings.ts'
import type {
  Agreed,
  AgreedSheet,
  AlternativeMethod,
  FieldPolicyId,
  PlacingPick,
  PlanState,
  Sequence,
  SheetGrade,
  SheetMaterial,
} from './isolation-facts.ts'
import type { GivenAnswer } from './questions.ts'
import type { Hole, Layout, Septum, SheetSize } from './sheet.ts'

/** One line of work as the planner needs it. */
export interface PlanWork {
  kind: ProcedureKind | 'undetermined'
  teeth: readonly Tooth[]
  surfaces: Partial<Record<Tooth, readonly Surface[]>>
}

/** All that a plan hangs on. Nothing else may change it. */
export interface PlanRequest {
  work: readonly PlanWork[]
  mouth: Mouth
  policy: PolicySet['isolation']
  latex: AllergyRecord['latex']
  /** What people chose: a policy by name, the teeth to clamp, the sheet, another way than a dam, answers. */
  choice: {
    policy: FieldPolicyId | null
    anchors: readonly Tooth[]
    sheetMaterial: SheetMaterial | null
    alternative: { method: AlternativeMethod; reason: string } | null
    answers: readonly GivenAnswer[]
  }
  /** Free words that may bear on isolation: history and booking notes. */
  notes: readonly string[]
  /** Null: by age. */
  sheet: SheetSize | null
  /** The patient's own arch against the table's. */
  measure: number
}

/** What the planner took as true without being told. */
export type Assumption =
  | { kind: 'mouth-not-charted'; teeth: Tooth[] }
  | { kind: 'age-unknown' }
  | { kind: 'surfaces-unknown'; tooth: Tooth }
  | { kind: 'latex-unknown' }
  | { kind: 'policy-of-clinic'; policy: FieldPolicyId }
  | { kind: 'sheet-by-age'; sheet: SheetSize }
  | { kind: 'arch-continued'; teeth: Tooth[] }

/** One sheet, laid out. `holes` run as `field` does, from the anchor's end. */
export interface PlannedSheet extends Omit<AgreedSheet, 'holes'>, SheetSize {
  arch: Arch
  working: Tooth[]
  policy: FieldPolicyId
  grade: SheetGrade
  sequence: Sequence
  placing: PlacingPick
  holes: Hole[]
  septa: Septum[]
  /** The ends of the field and what holds the sheet there. */
  ends: FieldEnd[]
  ligated: Tooth[]
  /** Everything of the arch that a drawing needs. */
  layout: Pick<Layout, 'frame' | 'arcs'>
  markInMouth: boolean
}

export interface IsolationPlan {
  need: Cited<NeedOfIsolation>
  state: PlanState
  sheets: PlannedSheet[]
  sheetMaterial: SheetMaterial | null
  alternative: { method: AlternativeMethod; reason: string } | null
  assumed: Assumption[]
  findings: (IsolationFinding | ProcedureFinding)[]
  cautions: Caution[]
  /** What the dentist must agree to; the version covers this alone. */
  agreed: Agreed
  /** `sha256:` and the digest of `agreed`. */
  version: string
}

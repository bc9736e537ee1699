import type { Day } from '../base/moment.ts'
import type { FindingOf } from '../base/rule.ts'
import type { ProcedureKind } from '../procedures/work.ts'
import type { ToothCondition } from '../teeth/mouth-chart.ts'
import type { Tooth } from '../teeth/tooth.ts'
import type { AlternativeMethod, ClampFamily, FieldPolicyId, Spacing } from './isolation-facts.ts'

/** Why a sheet over the mouth may not be borne. */
export type BreathingReason = 'nose' | 'asthma' | 'lungs' | 'panic'

/** Questions of the planner: a plan with one open is a draft. */
export type IsolationQuestion =
  | FindingOf<'mouth/not-charted', 'ask', { teeth: Tooth[] }>
  | FindingOf<'field/tooth-not-standing', 'ask', { tooth: Tooth }>
  | FindingOf<'field/no-tooth', 'ask', { kind: ProcedureKind }>
  | FindingOf<'field/policy-silent', 'ask', { tooth: Tooth; policy: FieldPolicyId; used: FieldPolicyId }>
  | FindingOf<'field/wire', 'ask', { teeth: Tooth[] }>
  | FindingOf<'field/contact-closed', 'ask', { teeth: Tooth[] }>
  | FindingOf<'anchor/ceramic-crown', 'ask', { tooth: Tooth }>
  | FindingOf<'anchor/unsuitable', 'ask', { tooth: Tooth; why: ToothCondition }>
  | FindingOf<'anchor/distal-of-last', 'ask', { tooth: Tooth }>
  | FindingOf<'anchor/broken-down', 'ask', { tooth: Tooth }>
  | FindingOf<'breathing/choice', 'ask', { why: BreathingReason }>
  | FindingOf<'alternative/needed', 'ask', { because: string }>

/** What is told beside a plan and stops nothing. */
export type IsolationNote =
  | FindingOf<'anchor/moved', 'note', { from: Tooth; to: Tooth; why: ToothCondition }>
  | FindingOf<'anchor/working-tooth', 'note', { tooth: Tooth; behind: Tooth | null }>
  | FindingOf<'anchor/matrix', 'note', { tooth: Tooth }>
  | FindingOf<'anchor/may-not-hold', 'note', { tooth: Tooth; why: ToothCondition }>
  | FindingOf<'anchor/abutment', 'note', { tooth: Tooth }>
  | FindingOf<'anchor/gum-before', 'note', { tooth: Tooth; day: Day; gum: 'marked' | 'injured' }>
  | FindingOf<'anchor/passed-over-before', 'note', { tooth: Tooth; day: Day; instead: Tooth[] }>
  | FindingOf<'clamp/none-in-stock', 'note', { tooth: Tooth; family: ClampFamily }>
  | FindingOf<'field/pontic', 'note', { teeth: Tooth[] }>
  | FindingOf<'sheet/mark-in-mouth', 'note', { teeth: Tooth[] }>
  | FindingOf<'sheet/fold', 'note', { teeth: Tooth[]; centreMm: number; naturalMm: number }>
  | FindingOf<'sheet/slit-length', 'note', { mm: number }>
  | FindingOf<'sheet/made-non-latex', 'note', { why: 'confirmed' | 'suspected' | 'not-known' }>
  | FindingOf<'punch/outside-iso', 'note', { mm: number; what: 'hole' | 'length' }>

/** What refuses. */
export type IsolationStop =
  | FindingOf<
      'sheet/septum-narrow',
      'stop',
      { teeth: Tooth[]; mm: number; leastMm: number; measure: Spacing['measure'] }
    >
  | FindingOf<'sheet/latex-refused', 'stop', { latex: 'confirmed' | 'suspected' | 'not-known' }>
  | FindingOf<'plan/missing', 'stop'>
  | FindingOf<'plan/stale', 'stop', { sent: number; stands: number }>
  | FindingOf<'plan/not-agreeable', 'stop', { state: string }>
  | FindingOf<'choice/answer-unknown', 'stop', { answer: string; allowed: string[] }>
  | FindingOf<'policy/not-a-dentist', 'stop'>
  | FindingOf<'punch/not-measured', 'stop', { mm: number; what: 'hole' | 'length' }>
  | FindingOf<'clamp/not-listed', 'stop', { mark: string }>
  | FindingOf<'alternative/no-reason', 'stop', { method: AlternativeMethod }>
  | FindingOf<'clamp/untied', 'stop', { families: ClampFamily[] }>
  | FindingOf<'clamp/wingless-together', 'stop', { family: ClampFamily }>
  | FindingOf<'clamp/bow-forward', 'stop', { tooth: Tooth }>
  | FindingOf<'clamp/not-inspected', 'stop'>
  | FindingOf<'dam/wrong-tooth', 'stop', { planned: Tooth[]; placed: Tooth[] }>
  | FindingOf<'dam/differs', 'stop', { planned: Tooth[]; placed: Tooth[] }>
  | FindingOf<'dam/not-allowed-here', 'stop'>
  | FindingOf<'dam/not-placed', 'stop'>
  | FindingOf<'removal/septa', 'stop', { cut: number; expected: number }>
  | FindingOf<'removal/holes', 'stop', { whole: number; expected: number }>
  | FindingOf<'removal/fragment', 'stop'>
  | FindingOf<
      'removal/count',
      'stop',
      { what: 'clamps' | 'ligatures' | 'needles'; found: number; expected: number }
    >

export type IsolationFinding = IsolationQuestion | IsolationNote | IsolationStop

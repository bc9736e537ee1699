import type { Instant, Minutes } from '../base/moment.ts'
import type {
  AppointmentId,
  AsPlacedId,
  ClinicId,
  IsolationChoiceId,
  MemberId,
  PlanId,
  WordId,
} from '../ids.ts'
import type { NeedOfIsolation, ProcedureKind } from '../procedures/work.ts'
import type { Arch, Surface, Tooth } from '../teeth/tooth.ts'

/** Field policies by name; what each exposes and where it is published: `policy.ts`. */
export const FIELD_POLICY_IDS = [
  'ENDO_SINGLE',
  'STURDEVANT_WIDE',
  'LIMITED_1D2M',
  'ASSIST_RANGE',
  'ASSIST_ANT',
  'CARDS_ANT',
  'BLACK_1908',
  'DAVIS_1917',
  'MCGEHEE',
  'HEMIARCH_OPP_CANINE',
  'QUADRANT_POST',
  'ANT_P2_P2',
  'SECTOR_EXCEPT_SMALL',
  'VENEER_P2_P2',
  'PAED_MIN',
  'PAED_QUAD',
  'PAED_ANT',
  'SLIT',
  'SEAL_QUAD',
  'BLEACH_ARCH',
  'FULL_ARCH',
] as const
export type FieldPolicyId = (typeof FIELD_POLICY_IDS)[number]

export const HOLE_SCHEMES = ['S5', 'S6', 'S3', 'S1', 'SCOL5'] as const
export type HoleScheme = (typeof HOLE_SCHEMES)[number]
export const ANCHOR_HOLES = ['fixed-5', 'plus-one', 'class-plus-one'] as const
/** `fixed-5`: always the largest · `plus-one`: class size + 1 · `class-plus-one`: the default, largest only for molars. */
export type AnchorHole = (typeof ANCHOR_HOLES)[number]

export const CLAMP_FAMILIES = [
  'MOLAR_W_ACTIVE',
  'MOLAR_W_PASSIVE',
  'MOLAR_WL',
  'MOLAR_SERR',
  'MOLAR_EXT',
  'ANT_EXT_ENDO',
  'PM_W',
  'PM_WL',
  'ANT_DBL',
  'CERV_RETR',
  'PRIM_MOLAR',
  'NONMETAL',
  'GUARD',
] as const
export type ClampFamily = (typeof CLAMP_FAMILIES)[number]

export const STOCK_TEETH = ['front', 'premolar', 'molar', 'primary-front', 'primary-molar'] as const
export type StockTooth = (typeof STOCK_TEETH)[number]

/** A clamp of the clinic's own: its form, the teeth and jaw it is made for, and whatever is engraved on it. */
export interface StockClamp {
  mark: string
  family: ClampFamily
  teeth: StockTooth[]
  jaw: Arch | 'either'
  metal: boolean
  count: number
  /** When it was last looked at, and no rust, crack or bend seen; null or left out: not noted. */
  looked?: { by: MemberId; at: Instant } | null
}

export const SPACING_MEASURES = ['edge-to-edge', 'centre-to-centre'] as const
/** A distance between two holes, and how it was measured: sources seldom say, so it must be said here. */
export interface Spacing {
  measure: (typeof SPACING_MEASURES)[number]
  mm: number
}

/** How far apart a clinic punches, and where it is too near or too far. */
export interface SpacingPick {
  /** Null: as the teeth stand and a little more. */
  wanted: Spacing | null
  least: Spacing
  /** Null: by so much above the natural distance. */
  most: Spacing | null
}

export const SHEET_MATERIALS = ['latex', 'non-latex'] as const
export type SheetMaterial = (typeof SHEET_MATERIALS)[number]
export const SHEET_GRADES = ['thin', 'medium', 'heavy', 'extra-heavy', 'special-heavy'] as const
export type SheetGrade = (typeof SHEET_GRADES)[number]

export const ALTERNATIVE_METHODS = [
  'cotton-rolls',
  'absorbent-triangles',
  'suction-isolator',
  'retraction-cord',
  'gingival-barrier',
  'throat-screen',
] as const
export type AlternativeMethod = (typeof ALTERNATIVE_METHODS)[number]

/** What people chose for this appointment where a rule left a choice. One per appointment. */
export interface IsolationChoice {
  clinicId: ClinicId
  id: IsolationChoiceId
  appointmentId: AppointmentId
  policy: FieldPolicyId | null
  anchors: Tooth[]
  sheetMaterial: SheetMaterial | null
  alternative: { method: AlternativeMethod; reason: string; by: MemberId; at: Instant } | null
  /** Answers to the planner's questions: the rule asked, what it was about, and the answer. */
  answers: {
    rule: string
    about: string
    answer: string
    by: MemberId
    at: Instant
    /** Of an override: the finding that stood there, by `findingKey`, and the plan number; null or left out: no override. */
    passed?: { finding: string; planNumber: number } | null
  }[]
  /** What a student drew of their own before the plan was shown; null or left out: nothing. */
  drawing: OwnDrawing | null
}

/** Teeth exposed, teeth clamped and hole sizes as a student would have them, drawn against a plan number. */
export interface OwnDrawing {
  field: Tooth[]
  clamped: Tooth[]
  holes: { tooth: Tooth; size: number }[]
  /** The teeth the work was on: drawn for others, it is to be drawn again. */
  worked: Tooth[]
  planNumber: number
  by: MemberId
  at: Instant
}

export type PlanState = 'planned' | 'draft' | 'undetermined' | 'not-needed' | 'alternative'

export interface AgreedClamp {
  tooth: Tooth
  family: ClampFamily
  role: 'anchor' | 'second' | 'retractor'
}

/** One sheet as the dentist agrees to it. `field` runs from the anchor's end. */
export interface AgreedSheet {
  field: Tooth[]
  anchor: Tooth | null
  clamps: AgreedClamp[]
  holes: { tooth: Tooth; size: number }[]
  /** Teeth that share one slit opening, its end teeth first and last; empty for a closed field. */
  slit: Tooth[]
}

/** What the dentist must agree to: no coordinates, no wording, no sources. The plan's digest covers this alone. */
export interface Agreed {
  state: PlanState
  need: NeedOfIsolation
  work: {
    kind: ProcedureKind | 'undetermined'
    teeth: Tooth[]
    surfaces: Partial<Record<Tooth, Surface[]>>
  }[]
  policy: FieldPolicyId | null
  sheets: AgreedSheet[]
  sheetMaterial: SheetMaterial | null
  alternative: AlternativeMethod | null
  /** Rules whose question is still open; a plan with any is a draft. */
  open: string[]
}

/** The plan of an appointment. `number` grows by one with each change of `agreed`. */
export interface Plan {
  clinicId: ClinicId
  id: PlanId
  appointmentId: AppointmentId
  number: number
  digest: string
  agreed: Agreed
}

export const LAPSE_CAUSES = [
  'plan-changed',
  'dentist-changed',
  'patient-changed',
  'day-changed',
  'consent-changed',
  'allergies-changed',
  'history-changed',
  'weight-changed',
  'dose-changed',
  'stopped',
  'left-chair',
  'interrupted',
  'too-long-ago',
  'pack-failed',
  'withdrawn',
] as const
export type LapseCause = (typeof LAPSE_CAUSES)[number]

/** A dentist's word on one plan number. It lapses and never heals; after the start a change is only marked. */
export interface Word {
  clinicId: ClinicId
  id: WordId
  appointmentId: AppointmentId
  planNumber: number
  planDigest: string
  by: MemberId
  at: Instant
  station: string
  /** The student's or assistant's own step before, where the clinic asks for two. */
  proposedBy: MemberId | null
  life:
    | { kind: 'live' }
    | { kind: 'lapsed'; at: Instant; why: LapseCause }
    | { kind: 'changed-since-start'; at: Instant; why: LapseCause }
}

export const SEQUENCES = ['together', 'clamp-first', 'dam-first'] as const
/** Clamp and sheet in one carry · clamp first, sheet over it · sheet first, clamp over it. */
export type Sequence = (typeof SEQUENCES)[number]

export const EVERYDAY_GRADES = ['medium', 'heavy'] as const
export const FRAME_SIDES = ['over', 'under'] as const
export const FLOSS_PATHS = ['round-bow', 'holes-only'] as const
export const LOWER_FRONTS_MM = [40, 50] as const

/** How a clinic places where authorities differ; each option's source stands in `placing-policy.ts`. */
export interface PlacingPick {
  /** Of a sheet without a retractor. */
  grade: (typeof EVERYDAY_GRADES)[number]
  /** Where the clamp leaves it open. */
  sequence: Sequence
  /** The frame over the sheet, or under it. */
  frame: (typeof FRAME_SIDES)[number]
  flossCm: number
  flossPath: (typeof FLOSS_PATHS)[number]
  /** What lower incisors keep to the bottom edge of a 150 mm sheet, in mm; null or left out: 40. */
  lowerFrontMm: (typeof LOWER_FRONTS_MM)[number] | null
}

/** One sheet as it went on. */
export interface PlacedSheet {
  field: Tooth[]
  clamps: AgreedClamp[]
  sequence: Sequence
}

/** What was really placed, beside the plan. */
export interface AsPlaced {
  clinicId: ClinicId
  id: AsPlacedId
  appointmentId: AppointmentId
  planNumber: number
  /** Teeth and clamps of all sheets together. */
  field: Tooth[]
  clamps: AgreedClamp[]
  /** Sheet by sheet; null: recorded before sheets were told apart. */
  sheets: PlacedSheet[] | null
  minutes: Minutes | null
  outcome: {
    leak: boolean
    tear: boolean
    retries: number
    gum: 'sound' | 'marked' | 'injured' | 'not-looked'
  }
  by: MemberId
  at: Instant
}

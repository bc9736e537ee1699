import type { Agent, LimitProfileId } from '../anaesthesia/anaesthetic.ts'
import type { Minutes } from '../base/moment.ts'
import type { ClinicId, MemberId, PolicySetId } from '../ids.ts'
import type {
  AnchorHole,
  FieldPolicyId,
  HoleScheme,
  PlacingPick,
  SheetMaterial,
  SpacingPick,
  StockClamp,
} from '../isolation/isolation-facts.ts'
import type { Turnaround } from '../sterility/sterility-facts.ts'

export const FIELD_CLASSES = [
  'root-canal',
  'posterior-small',
  'posterior',
  'anterior',
  'cervical',
  'sealant',
  'primary-minimal',
  'bonded-posterior',
  'veneer',
  'crown-preparation',
  'bleaching',
] as const
/** Procedure classes for which a clinic picks a field policy. */
export type FieldClass = (typeof FIELD_CLASSES)[number]

export const LINE_KINDS = ['blood-pressure', 'anticoagulants', 'prophylaxis', 'glucose'] as const
export type LineKind = (typeof LINE_KINDS)[number]

/** What the clinic has asked before the needle: never a verdict, the dentist is asked with the source beside it. */
export interface ClinicLine {
  kind: LineKind
  /** Of everyone, or of those whose history speaks of it. */
  when: 'everyone' | 'by-history'
  /** The clinic's own words: what is asked, and from where on the dentist is. */
  words: string
}

/**
 * What the clinic picked where authorities differ. The figures behind each name, with their sources, stand in
 * the areas' `policy.ts`; here are only the picks.
 */
export interface PolicySet {
  clinicId: ClinicId
  id: PolicySetId
  isolation: {
    field: Record<FieldClass, FieldPolicyId>
    holeScheme: HoleScheme
    anchorHole: AnchorHole
    includeThirdMolar: 'never' | 'distal-surface-only' | 'always'
    sheetMaterial: SheetMaterial
    untiedClampAllowed: boolean
    /** Diameter in micrometres of each size of the clinic's own punch plate, size 1 first. */
    plateMicrometres: number[]
    /** Length of that punch in mm; null or left out: nobody has measured it. */
    punchLengthMm?: number | null
    /** Whether fields take the wider end where their source gives a range; left out: its least. */
    widerEnd?: boolean
    /** Null or left out: the figures of `sheet-policy.ts`. */
    spacing?: SpacingPick | null
    /** Null or left out: the defaults of `placing-policy.ts`. */
    placing?: PlacingPick | null
  }
  anaesthesia: {
    adultProfile: LimitProfileId
    childProfile: LimitProfileId
    combine: 'lower-of-two' | 'fractions'
    recheckMinutes: Minutes
    /** How long a child's or a light patient's weight counts, in months; null or left out: six. */
    weightMonths: number | null
    /** The same for everyone else; null or left out: twenty-four. */
    adultWeightMonths?: number | null
    /** Agents that the house does not use for blocks; null or left out: it has no such rule. */
    notForBlocks: Agent[] | null
  }
  allergies: { noneKnownMonths: number; latexUnknownKit: 'non-latex' | 'ask-first' }
  trays: { claimQuietMinutes: Minutes; layOutMinutes: Minutes }
  sterility: {
    packAge: { kind: 'event-related' } | { kind: 'dated'; days: number } | { kind: 'unset' }
    sporeFailure: 'hold' | 'warn'
    /** Null or left out: nobody has measured it here. */
    turnaround?: Turnaround | null
  }
  schedule: { turnoverMinutes: Minutes; lateAmberMinutes: Minutes; latePromptMinutes: Minutes }
  word: { liveMinutes: Minutes; twoStepForStudents: boolean }
  /** The clinic's own clamps; null or left out: nobody has listed them, and none is ranked. */
  clamps: StockClamp[] | null
  /** Field picks of single dentists where they differ from the clinic's; null or left out: none do. */
  ofDentists: { dentistId: MemberId; field: Partial<Record<FieldClass, FieldPolicyId>> }[] | null
  /** The steps of the clinic's own cards for what goes wrong, by kind of help; null or left out: not written yet. */
  help: Partial<Record<string, string[]>> | null
  /** The clinic's own lines before the needle; null or left out: none is asked. */
  lines: ClinicLine[] | null
}

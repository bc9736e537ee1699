import type { Instant } from '../base/moment.ts'
import type { AppointmentId, ClinicId, GuideId, MemberId } from '../ids.ts'

export const GUIDE_PARTS = ['placing', 'removal'] as const
/** Placing a sheet, and taking it off. */
export type GuidePart = (typeof GUIDE_PARTS)[number]

/** The steps of placing and of taking off; their order and sources stand in `steps.ts`. */
export const STEP_NAMES = [
  'tell-patient',
  'tooth-aloud',
  'mark-occlusion',
  'choose-shade',
  'floss-contacts',
  'punch-clean',
  'mark-in-mouth',
  'cut-slit',
  'lubricate-optional',
  'tie-floss',
  'try-clamp',
  'carry-together',
  'clamp-then-sheet',
  'sheet-then-clamp',
  'sheet-by-floss',
  'inner-jaw-first',
  'no-gum-caught',
  'bow-to-back',
  'frame',
  'floss-tail-under-frame',
  'far-end-first',
  'far-end-tied',
  'far-end-wedged',
  'tooth-by-tooth',
  'tie-ligatures',
  'seat-retractor',
  'tuck-edges',
  'seal',
  'leak-test',
  'recount-through',
  'check-pinch',
  'verify',
  'take-out-ligatures',
  'cut-septa',
  'take-off-clamp',
  'take-off-sheet',
  'lay-flat-count',
  'look-at-gum',
] as const
export type StepName = (typeof STEP_NAMES)[number]

/** A step of one sheet, counted from 1, done at the chair on the plan with this number. */
export interface GuideTick {
  planNumber: number
  part: GuidePart
  sheet: number
  step: StepName
  /** When it was touched, by the clinic's clock, also where it was told later. */
  at: Instant
  by: MemberId
}

/** What was done step by step at the chair, so that any screen follows. One per appointment, in order of telling. */
export interface Guide {
  clinicId: ClinicId
  id: GuideId
  appointmentId: AppointmentId
  ticks: GuideTick[]
}

import type { Day, Instant } from '../base/moment.ts'
import type { AllergyRecordId, ClinicId, MemberId, PatientId } from '../ids.ts'

/** The four states of knowing. Nothing recorded is `not-asked`, never `none-known`. */
export const ALLERGY_STATES = ['not-asked', 'asked-unknown', 'none-known', 'listed'] as const
export type AllergyState = (typeof ALLERGY_STATES)[number]

export const CERTAINTIES = ['suspected', 'confirmed', 'preference', 'past', 'refuted'] as const
export type Certainty = (typeof CERTAINTIES)[number]

export const REACTION_SEVERITIES = ['unknown', 'mild', 'moderate', 'severe'] as const
export type ReactionSeverity = (typeof REACTION_SEVERITIES)[number]

export interface Allergy {
  /** A substance family of `substance.ts`, or `other` with its words. */
  substance: string
  certainty: Certainty
  severity: ReactionSeverity
  criticality: 'low' | 'high' | 'unable-to-assess' | null
  /** The original words, always shown. */
  text: string
  code: { system: string; code: string } | null
  recorded: { by: MemberId | null; at: Instant; source: string }
}

/**
 * One record per patient. `latex` stands apart because "no known drug allergies" says nothing of it:
 * what was asked of latex, and the answer.
 */
export interface AllergyRecord {
  clinicId: ClinicId
  id: AllergyRecordId
  patientId: PatientId
  state: AllergyState
  /** Who asked and when, for `asked-unknown`, `none-known` and `listed`. */
  asked: { by: MemberId | null; at: Instant; day: Day } | null
  latex: 'not-asked' | 'asked-unknown' | 'none-known' | 'suspected' | 'confirmed'
  latexAsked: { by: MemberId | null; at: Instant; day: Day } | null
  allergies: Allergy[]
  /** Statements in free text that were not taken as an allergy but may not be lost. */
  statements: { text: string; source: string; at: Instant }[]
}

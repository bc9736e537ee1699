import type { Grams } from '../base/amount.ts'
import type { Day, Instant } from '../base/moment.ts'
import type { ClinicId, MemberId, PatientId } from '../ids.ts'

export interface Identifier {
  /** Who gave it: a system address, or the import source's name. */
  system: string
  value: string
}

export interface Weight {
  grams: Grams
  /** As it was entered, always shown. */
  entered: { value: string; unit: 'kg' | 'lb' }
  by: MemberId
  at: Instant
}

export interface Guardian {
  /** Who is to come with them and permit. */
  relation: string
  /** Who came, as recorded at a visit; null: not asked. `relation` null or left out: whoever was to come. */
  present: { relation: string | null; by: MemberId; at: Instant } | null
}

/** Who came with them last, or is to come. */
export const carerNow = ({ relation, present }: Guardian): string => present?.relation ?? relation

export interface Interpreter {
  language: string
  present: { kind: 'professional' | 'staff' | 'relative'; reason: string; by: MemberId; at: Instant } | null
}

export interface Patient {
  clinicId: ClinicId
  id: PatientId
  given: string
  family: string
  born: Day | null
  identifiers: Identifier[]
  weight: Weight | null
  guardian: Guardian | null
  interpreter: Interpreter | null
  /** History items that bear on readiness, in their own words: `spina bifida`, `blocked nose today`. */
  history: { text: string; by: MemberId | null; at: Instant }[]
  /** When today's history was last confirmed with the patient. */
  historyConfirmed: { by: MemberId; at: Instant } | null
}

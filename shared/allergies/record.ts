import type { AllergyRecordId, ClinicId, PatientId } from '../ids.ts'
import type { Allergy, AllergyRecord, Certainty } from './allergy-record.ts'

/** Nothing asked, nothing known: what a patient has until somebody asks. */
export const emptyRecord = (
  clinicId: ClinicId,
  id: AllergyRecordId,
  patientId: PatientId,
): AllergyRecord => ({
  clinicId,
  id,
  patientId,
  state: 'not-asked',
  asked: null,
  latex: 'not-asked',
  latexAsked: null,
  allergies: [],
  statements: [],
})

const CERTAINTY_RANK: Record<Certainty, number> = {
  refuted: 0,
  past: 1,
  preference: 2,
  suspected: 3,
  confirmed: 4,
}
const SEVERITIES = ['unknown', 'mild', 'moderate', 'severe'] as const
const CRITICALITIES = [null, 'unable-to-assess', 'low', 'high'] as const

/** A live entry: one that a tray is held against. */
export const isLive = ({ certainty }: Pick<Allergy, 'certainty'>): boolean =>
  certainty === 'confirmed' || certainty === 'suspected'

const isSame = (a: Allergy, b: Allergy): boolean =>
  a.substance === b.substance && (a.substance !== 'other' || a.text.toLowerCase() === b.text.toLowerCase())
const graver = <T>(order: readonly T[], a: T, b: T): T => (order.indexOf(b) > order.indexOf(a) ? b : a)

/** The list with one more answer: the graver certainty, severity and criticality stay; its first words stay. */
export function addAllergy(known: readonly Allergy[], added: Allergy): Allergy[] {
  const standing = known.find((allergy) => isSame(allergy, added))
  if (!standing) return [...known, added]
  const raises = CERTAINTY_RANK[added.certainty] > CERTAINTY_RANK[standing.certainty]
  const raised: Allergy = {
    ...standing,
    certainty: raises ? added.certainty : standing.certainty,
    severity: graver(SEVERITIES, standing.severity, added.severity),
    criticality: graver(CRITICALITIES, standing.criticality, added.criticality),
    code: standing.code ?? added.code,
  }
  return known.map((allergy) => (allergy === standing ? raised : allergy))
}

const LATEX_RANK: Record<AllergyRecord['latex'], number> = {
  'not-asked': 0,
  'asked-unknown': 1,
  'none-known': 2,
  suspected: 3,
  confirmed: 4,
}
/** A suspicion of latex is cleared by a clinician, never by an answer. */
export const lowersLatex = (from: AllergyRecord['latex'], to: AllergyRecord['latex']): boolean =>
  LATEX_RANK[from] >= LATEX_RANK.suspected && LATEX_RANK[to] < LATEX_RANK[from]

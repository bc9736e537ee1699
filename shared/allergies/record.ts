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
/** HL7 AllergyIntolerance criticality (R4, READ). Who could not assess it has not said that it is low (COMMON). */
const CRITICALITIES = [null, 'low', 'unable-to-assess', 'high'] as const

/** A live entry: one that a tray is held against. */
export const isLive = ({ certainty }: Pick<Allergy, 'certainty'>): boolean =>
  certainty === 'confirmed' || certainty === 'suspected'

const isSame = (a: Allergy, b: Allergy): boolean =>
  a.substance === b.substance && (a.substance !== 'other' || a.text.toLowerCase() === b.text.toLowerCase())
const graver = <T>(order: readonly T[], a: T, b: T): T => (order.indexOf(b) > order.indexOf(a) ? b : a)

/** Whether an answer says less than is known. */
export const lowersCertainty = (from: Certainty, to: Certainty): boolean =>
  CERTAINTY_RANK[to] < CERTAINTY_RANK[from]

/** One more answer on an entry: of certainty, severity and criticality the graver stays, each for itself. */
export const raiseAllergy = (
  standing: Allergy,
  { certainty, severity, criticality }: Pick<Allergy, 'certainty' | 'severity' | 'criticality'>,
): Allergy => ({
  ...standing,
  certainty: lowersCertainty(standing.certainty, certainty) ? standing.certainty : certainty,
  severity: graver(SEVERITIES, standing.severity, severity),
  criticality: graver(CRITICALITIES, standing.criticality, criticality),
})

/** The list with one more answer: the graver stays; its first words stay. */
export function addAllergy(known: readonly Allergy[], added: Allergy): Allergy[] {
  const standing = known.find((allergy) => isSame(allergy, added))
  if (!standing) return [...known, added]
  const raised = { ...raiseAllergy(standing, added), code: standing.code ?? added.code }
  return known.map((allergy) => (allergy === standing ? raised : allergy))
}

const LATEX_RANK: Record<AllergyRecord['latex'], number> = {
  'not-asked': 0,
  'asked-unknown': 1,
  'none-known': 2,
  suspected: 3,
  confirmed: 4,
}
/** Whether an answer on latex says more than is known. */
export const raisesLatex = (from: AllergyRecord['latex'], to: AllergyRecord['latex']): boolean =>
  LATEX_RANK[to] > LATEX_RANK[from]
/** A suspicion of latex is cleared by a clinician, never by an answer. */
export const lowersLatex = (from: AllergyRecord['latex'], to: AllergyRecord['latex']): boolean =>
  LATEX_RANK[from] >= LATEX_RANK.suspected && LATEX_RANK[to] < LATEX_RANK[from]

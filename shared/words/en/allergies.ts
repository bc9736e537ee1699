import type { AllergyFinding } from '../../allergies/findings.ts'
import type { Sentences } from '../../base/rule.ts'

export const ALLERGY_SENTENCES: Sentences<AllergyFinding> = {
  'latex/not-asked': { says: () => 'Latex has not been asked.', desk: null },
}

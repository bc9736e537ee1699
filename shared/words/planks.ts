import type { Sentences } from '../base/rule.ts'
import type { Finding } from '../finding.ts'
import { ALLERGY_SENTENCES } from './en/allergies.ts'
import { ANAESTHESIA_SENTENCES } from './en/anaesthesia.ts'
import { IMPORT_SENTENCES } from './en/imports.ts'
import { ISOLATION_SENTENCES } from './en/isolation.ts'
import { PEOPLE_SENTENCES } from './en/people.ts'
import { PROCEDURE_SENTENCES } from './en/procedures.ts'
import { READINESS_SENTENCES } from './en/readiness.ts'
import { SCHEDULE_SENTENCES } from './en/schedule.ts'
import { STERILITY_SENTENCES } from './en/sterility.ts'
import { TEETH_SENTENCES } from './en/teeth.ts'
import { TRAY_SENTENCES } from './en/trays.ts'

/** The sentences of what may lie on a plank: all that a board says. Those of refusals stand in files of their own. */
export const PLANK_SENTENCES = {
  ...TEETH_SENTENCES,
  ...PROCEDURE_SENTENCES,
  ...ISOLATION_SENTENCES,
  ...ANAESTHESIA_SENTENCES,
  ...ALLERGY_SENTENCES,
  ...TRAY_SENTENCES,
  ...STERILITY_SENTENCES,
  ...SCHEDULE_SENTENCES,
  ...IMPORT_SENTENCES,
  ...PEOPLE_SENTENCES,
  ...READINESS_SENTENCES,
} satisfies Partial<Sentences<Finding>>

export type Sentence = { says: (finding: Finding) => string; desk: ((finding: Finding) => string) | null }

/** What lies first on a plank, in words; of anything else, where it is said. */
export function sayMissing(finding: Finding): string {
  const sentences = PLANK_SENTENCES as unknown as Partial<Record<Finding['rule'], Sentence>>
  return sentences[finding.rule]?.says(finding) ?? 'Something is missing: open the plan, where it is named.'
}

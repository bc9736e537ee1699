import type { Sentences } from '../../base/rule.ts'
import type { ReadinessFinding } from '../../readiness/findings.ts'

export const READINESS_SENTENCES: Sentences<ReadinessFinding> = {
  'word/missing': { says: () => 'The dentist has not given their word on this plan.', desk: null },
}

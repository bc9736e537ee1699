import type { AnaesthesiaFinding } from '../../anaesthesia/findings.ts'
import type { Sentences } from '../../base/rule.ts'

export const ANAESTHESIA_SENTENCES: Sentences<AnaesthesiaFinding> = {
  'numbness/not-tested': { says: () => 'The gum at the clamp has not been tested.', desk: null },
}

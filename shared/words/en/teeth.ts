import type { Sentences } from '../../base/rule.ts'
import type { TeethFinding } from '../../teeth/findings.ts'

export const TEETH_SENTENCES: Sentences<TeethFinding> = {
  'tooth/ambiguous': { says: () => 'Two teeth carry this number. Which is meant?', desk: null },
}

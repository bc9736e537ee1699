import type { Sentences } from '../../base/rule.ts'
import type { PeopleFinding } from '../../people/findings.ts'

export const PEOPLE_SENTENCES: Sentences<PeopleFinding> = {
  'person/not-allowed': { says: () => 'Your role does not allow this.', desk: null },
}

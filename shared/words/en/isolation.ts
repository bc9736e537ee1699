import type { Sentences } from '../../base/rule.ts'
import type { IsolationFinding } from '../../isolation/findings.ts'

export const ISOLATION_SENTENCES: Sentences<IsolationFinding> = {
  'plan/draft': { says: () => 'The plan is a draft: a question is open.', desk: null },
}

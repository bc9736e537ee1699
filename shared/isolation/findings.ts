import type { FindingOf } from '../base/rule.ts'

export type IsolationFinding = FindingOf<'plan/draft', 'ask'>

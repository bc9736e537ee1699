import type { FindingOf } from '../base/rule.ts'

export type TeethFinding = FindingOf<'tooth/ambiguous', 'ask'>

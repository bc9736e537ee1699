import type { FindingOf } from '../base/rule.ts'

export type AllergyFinding = FindingOf<'latex/not-asked', 'ask'>

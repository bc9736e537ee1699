import type { FindingOf } from '../base/rule.ts'

export type ReadinessFinding = FindingOf<'word/missing', 'ask'>

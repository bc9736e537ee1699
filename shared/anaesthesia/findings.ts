import type { FindingOf } from '../base/rule.ts'

export type AnaesthesiaFinding = FindingOf<'numbness/not-tested', 'ask'>

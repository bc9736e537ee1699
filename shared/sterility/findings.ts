import type { FindingOf } from '../base/rule.ts'

export type SterilityFinding = FindingOf<'pack/not-released', 'stop'>

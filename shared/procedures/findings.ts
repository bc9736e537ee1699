import type { FindingOf } from '../base/rule.ts'

export type ProcedureFinding = FindingOf<'work/undetermined', 'ask'>

import type { Rule } from '../base/rule.ts'
import { COMMON } from '../base/source.ts'
import type { ProcedureFinding } from './findings.ts'

export const PROCEDURE_RULES = {
  'work/undetermined': {
    level: 'ask',
    next: 'dentist',
    answeredBy: ['work.name'],
    check: 'plan',
    gate: 'inject',
    policy: null,
    source: COMMON,
  },
} satisfies Record<ProcedureFinding['rule'], Rule>

import type { Rule } from '../base/rule.ts'
import { COMMON } from '../base/source.ts'
import type { TeethFinding } from './findings.ts'

export const TEETH_RULES = {
  'tooth/ambiguous': {
    level: 'ask',
    next: 'dentist',
    answeredBy: ['work.name'],
    check: 'plan',
    gate: 'inject',
    policy: null,
    source: COMMON,
  },
} satisfies Record<TeethFinding['rule'], Rule>

import type { Rule } from '../base/rule.ts'
import { COMMON } from '../base/source.ts'
import type { IsolationFinding } from './findings.ts'

export const ISOLATION_RULES = {
  'plan/draft': {
    level: 'ask',
    next: 'dentist',
    answeredBy: ['isolation.answer'],
    check: 'plan',
    gate: 'inject',
    policy: null,
    source: COMMON,
  },
} satisfies Record<IsolationFinding['rule'], Rule>

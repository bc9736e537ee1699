import type { Rule } from '../base/rule.ts'
import { COMMON } from '../base/source.ts'
import type { ReadinessFinding } from './findings.ts'

export const READINESS_RULES = {
  'word/missing': {
    level: 'ask',
    next: 'dentist',
    answeredBy: ['word.give'],
    check: 'plan',
    gate: 'inject',
    policy: null,
    source: COMMON,
  },
} satisfies Record<ReadinessFinding['rule'], Rule>

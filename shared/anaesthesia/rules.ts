import type { Rule } from '../base/rule.ts'
import { COMMON } from '../base/source.ts'
import type { AnaesthesiaFinding } from './findings.ts'

export const ANAESTHESIA_RULES = {
  'numbness/not-tested': {
    level: 'ask',
    next: 'assistant',
    answeredBy: ['numbness.record'],
    check: 'numbness',
    gate: 'clamp',
    policy: null,
    source: COMMON,
  },
} satisfies Record<AnaesthesiaFinding['rule'], Rule>

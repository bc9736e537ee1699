import type { Rule } from '../base/rule.ts'
import { COMMON } from '../base/source.ts'
import type { AllergyFinding } from './findings.ts'

export const ALLERGY_RULES = {
  'latex/not-asked': {
    level: 'ask',
    next: 'assistant',
    answeredBy: ['allergies.record'],
    check: 'allergies',
    gate: 'clamp',
    policy: null,
    source: COMMON,
  },
} satisfies Record<AllergyFinding['rule'], Rule>

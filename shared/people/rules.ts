import type { Rule } from '../base/rule.ts'
import { COMMON } from '../base/source.ts'
import type { PeopleFinding } from './findings.ts'

export const PEOPLE_RULES = {
  'person/not-allowed': {
    level: 'stop',
    next: 'manager',
    answeredBy: ['person.change'],
    check: null,
    gate: null,
    policy: null,
    source: COMMON,
  },
} satisfies Record<PeopleFinding['rule'], Rule>

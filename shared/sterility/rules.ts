import type { Rule } from '../base/rule.ts'
import { COMMON } from '../base/source.ts'
import type { SterilityFinding } from './findings.ts'

export const STERILITY_RULES = {
  'pack/not-released': {
    level: 'stop',
    next: 'steriliser-lead',
    answeredBy: ['load.release'],
    check: 'tray',
    gate: 'clamp',
    policy: null,
    source: COMMON,
  },
} satisfies Record<SterilityFinding['rule'], Rule>

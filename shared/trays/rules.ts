import type { Rule } from '../base/rule.ts'
import { COMMON } from '../base/source.ts'
import type { TrayFinding } from './findings.ts'

export const TRAY_RULES = {
  'tray/unowned': {
    level: 'ask',
    next: 'assistant',
    answeredBy: ['tray.claim'],
    check: 'tray',
    gate: 'seat',
    policy: null,
    source: COMMON,
  },
} satisfies Record<TrayFinding['rule'], Rule>

import type { Rule } from '../base/rule.ts'
import { COMMON } from '../base/source.ts'
import type { ScheduleFinding } from './findings.ts'

export const SCHEDULE_RULES = {
  'appointment/vanished': {
    level: 'ask',
    next: 'front-desk',
    answeredBy: ['appointment.change'],
    check: 'patient',
    gate: 'seat',
    policy: null,
    source: COMMON,
  },
} satisfies Record<ScheduleFinding['rule'], Rule>

import type { FindingOf } from '../base/rule.ts'

export type ScheduleFinding = FindingOf<'appointment/vanished', 'ask'>

import type { FindingOf } from '../base/rule.ts'

export type PeopleFinding = FindingOf<'person/not-allowed', 'stop'>

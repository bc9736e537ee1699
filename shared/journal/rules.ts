import type { Rule } from '../base/rule.ts'
import { COMMON } from '../base/source.ts'
import type { JournalFinding } from './findings.ts'

const refusal = (answeredBy: string[]) =>
  ({
    level: 'stop',
    next: 'assistant',
    answeredBy,
    check: null,
    gate: null,
    policy: null,
    source: COMMON,
  }) satisfies Rule

export const JOURNAL_RULES = {
  'undo/no-entry': refusal(['journal.undo']),
  'undo/not-this': refusal(['journal.undo']),
  'undo/moved-since': refusal(['journal.undo']),
} satisfies Record<JournalFinding['rule'], Rule>

import type { FindingOf } from '../base/rule.ts'

export type JournalFinding =
  | FindingOf<'undo/no-entry', 'stop', { revision: number }>
  | FindingOf<'undo/not-this', 'stop', { kind: string }>
  | FindingOf<'undo/moved-since', 'stop', { facts: number }>

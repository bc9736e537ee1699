import type { FindingOf } from '../base/rule.ts'
import type { Tooth } from '../teeth/tooth.ts'
import type { ProcedureKind } from './work.ts'

export type ProcedureFinding =
  | FindingOf<'work/undetermined', 'ask', { text: string }>
  | FindingOf<'work/no-tooth', 'ask', { kind: ProcedureKind; text: string }>
  // what refuses a command
  | FindingOf<'work/unknown', 'stop', { id: string }>
  | FindingOf<'work/words-too-few', 'stop', { words: string }>
  | FindingOf<'work/who-first', 'stop'>
  | FindingOf<'work/surface-elsewhere', 'stop', { teeth: Tooth[] }>

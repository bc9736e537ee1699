import type { Day } from '../base/moment.ts'
import type { FindingOf } from '../base/rule.ts'
import type { Substance } from './substance.ts'

/** A line of the tray and what is usually put in its place; empty where nothing is. */
export interface LineAndSwap {
  line: string
  swap: string
}

export type AllergyFinding =
  // what was asked
  | FindingOf<'allergies/ask-at-seating', 'note', { of: ('allergies' | 'latex')[] }>
  | FindingOf<'allergies/not-asked', 'ask'>
  | FindingOf<'allergies/answer-unknown', 'ask'>
  | FindingOf<'allergies/aged-out', 'ask', { asked: Day; months: number }>
  | FindingOf<'latex/not-asked', 'ask'>
  | FindingOf<'latex/possible', 'ask', { text: string }>
  | FindingOf<'latex/unknown-kit', 'ask', { lines: string[] }>
  | FindingOf<'latex/unasked-line', 'ask', { lines: LineAndSwap[] }>
  | FindingOf<'latex/high-risk', 'note', { words: string[] }>
  | FindingOf<'latex/food-prompt', 'note', { words: string[] }>
  | FindingOf<'latex/said-none', 'note', { text: string }>
  // latex against the tray and the room
  | FindingOf<'latex/conflict', 'stop', { lines: LineAndSwap[] }>
  | FindingOf<'latex/suspected-line', 'ask', { lines: LineAndSwap[] }>
  | FindingOf<'latex/line-unknown', 'ask', { lines: string[] }>
  | FindingOf<'latex/related', 'note', { lines: string[] }>
  | FindingOf<'latex/confirmed', 'note'>
  | FindingOf<'latex/suspected', 'note'>
  | FindingOf<'latex/preference', 'note', { text: string; lines: string[] }>
  | FindingOf<'latex/room', 'note'>
  | FindingOf<'latex/wipe-down', 'note'>
  // other substances against the tray
  | FindingOf<'allergy/conflict', 'stop', AgainstLines>
  | FindingOf<'allergy/suspected-item', 'ask', AgainstLines & { text: string }>
  | FindingOf<'allergy/line-unknown', 'ask', AgainstLines>
  | FindingOf<'allergy/caution', 'note', AgainstLines>
  | FindingOf<'allergy/rubber-chemicals', 'ask', AgainstLines>
  | FindingOf<'allergy/vasoconstrictor', 'ask', AgainstLines & { text: string }>
  | FindingOf<'allergy/reaction-unread', 'ask', { text: string }>
  | FindingOf<'allergy/words', 'note', { text: string }>
  // what refuses a command
  | FindingOf<'allergies/would-lower', 'stop', { substance: Substance }>
  | FindingOf<'allergies/none-but-listed', 'stop', { substances: string[] }>
  | FindingOf<'allergies/contradicts-record', 'stop'>
  | FindingOf<'allergies/nothing-to-clear', 'stop', { substance: Substance }>
  | FindingOf<'allergies/patient-unknown', 'stop', { id: string }>

export interface AgainstLines {
  substance: Substance
  lines: string[]
  swap: string
}

import type { FindingOf } from '../base/rule.ts'
import type { AppointmentId } from '../ids.ts'

export type ImportFinding =
  // what a file leaves open
  | FindingOf<'import/row-open', 'ask', { field: string; text: string }>
  | FindingOf<'import/tray-released', 'note'>
  | FindingOf<'import/tray-carried', 'note', { from: AppointmentId }>
  | FindingOf<'import/allergy-kept', 'note', { text: string }>
  // what refuses a command
  | FindingOf<'import/nothing-read', 'stop'>
  | FindingOf<'import/problem-unknown', 'stop'>
  | FindingOf<'import/problem-settled', 'stop'>
  | FindingOf<'import/address-unread', 'stop'>
  | FindingOf<'import/name-unknown', 'stop', { name: string }>

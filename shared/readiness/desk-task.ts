import type { Finding } from '../finding.ts'

/** What the desk itself records, by touch, where it is the first thing missing. */
export const DESK_TASKS = ['guardian', 'interpreter', 'book-interpreter', 'birth-day'] as const
export type DeskTask = (typeof DESK_TASKS)[number]

const ANSWERED: Partial<Record<Finding['rule'], DeskTask>> = {
  'guardian/not-recorded': 'guardian',
  'interpreter/not-recorded': 'interpreter',
  'interpreter/not-booked': 'book-interpreter',
  'dose/age-unknown': 'birth-day',
  'guardian/age-unknown': 'birth-day',
}
export const deskTaskOf = (missing: Finding | null): DeskTask | null =>
  (missing && ANSWERED[missing.rule]) ?? null

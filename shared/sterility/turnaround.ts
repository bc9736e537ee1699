import type { Minutes } from '../base/moment.ts'
import type { PolicySet } from '../people/policy-set.ts'
import { TURNAROUND_STEPS, type Turnaround } from './sterility-facts.ts'

/** Taken where a clinic has measured nothing: an hour, common practice without a source (COMMON). */
export const UNMEASURED_MINUTES: Minutes = 60

export interface TurnaroundTime {
  minutes: Minutes
  /** Null: not measured here, and the minutes are the assumed ones. */
  measured: Turnaround | null
}

/**
 * How long a set is away from the end in the chair until it is sterile again: clean, dry, pack, cycle and cool
 * together (safety facts derived from CDC cycle times: COMMON), with the clinic's own minutes for each.
 */
export function turnaroundOf(policy: Pick<PolicySet, 'sterility'> | null): TurnaroundTime {
  const measured = policy?.sterility.turnaround ?? null
  if (measured === null) return { minutes: UNMEASURED_MINUTES, measured }
  return { minutes: TURNAROUND_STEPS.reduce((sum, step) => sum + measured[step], 0), measured }
}

/** One row of the bench: a figure of ours beside what it is held against, both measured in the same run. */
export interface Reading {
  figure: string
  unit: string
  ours: number
  /** The same thing done the plain way; null where the figure stands by itself. */
  reference: number | null
  ratio: number | null
  limit: string
  reached: boolean
  /** Numbers behind the row, for whoever wants to look closer. */
  behind: Record<string, number | string>
}
export type Row = Reading | { figure: string; limit: string; notBuilt: true }

/** The sample that this share of all samples does not exceed, by nearest rank; NaN of none. */
export function percentile(samples: readonly number[], share: number): number {
  const sorted = [...samples].sort((a, b) => a - b)
  const rank = Math.max(1, Math.ceil(share * sorted.length))
  return sorted[rank - 1] ?? Number.NaN
}

export const p50 = (samples: readonly number[]): number => percentile(samples, 0.5)
export const p95 = (samples: readonly number[]): number => percentile(samples, 0.95)

export type Measured = Pick<Reading, 'figure' | 'unit' | 'ours'> & { behind?: Reading['behind'] }

/** A figure that must not be above a limit. A figure that could not be measured is not reached. */
export const atMost = (measured: Measured, limit: number): Reading => ({
  reference: null,
  ratio: null,
  behind: {},
  ...measured,
  limit: `≤ ${limit} ${measured.unit}`,
  reached: measured.ours <= limit,
})

/** A figure that must not be below a limit. */
export const atLeast = (measured: Measured, limit: number): Reading => ({
  reference: null,
  ratio: null,
  behind: {},
  ...measured,
  limit: `≥ ${limit} ${measured.unit}`,
  reached: measured.ours >= limit,
})

/** A figure that may be so many times its reference. */
export function atMostTimes(measured: Measured & { reference: number }, times: number): Reading {
  const ratio = measured.ours / measured.reference
  return { behind: {}, ...measured, ratio, limit: `≤ ${times} ×`, reached: ratio <= times }
}

/** A figure that must come to so many times its reference. */
export function atLeastTimes(measured: Measured & { reference: number }, times: number): Reading {
  const ratio = measured.ours / measured.reference
  return { behind: {}, ...measured, ratio, limit: `≥ ${times} ×`, reached: ratio >= times }
}

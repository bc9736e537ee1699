import { type Grams, type Nanograms, nanograms } from '../base/amount.ts'
import type { Agent, LimitProfileId, Solution } from './anaesthetic.ts'
import type { DoseFinding } from './findings.ts'
import type { Bar } from './gates.ts'
import type { CeilingState } from './limits.ts'

export interface CheckedDose extends Solution {
  tenthsOfCartridge: number
  /** Who gives or gave it, where that is known. */
  by: string | null
}

export const COMBINE_RULES = ['lower-of-two', 'fractions'] as const
/** All agents together within the lowest maximum, or the shares of each maximum within a whole. (MEMORY, Malamed) */
export type CombineRule = (typeof COMBINE_RULES)[number]

export interface DoseQuestion {
  profile: LimitProfileId | null
  weight: Grams | null
  ageYears: number | null
  /** Known only for small children, where half a year matters. */
  ageMonths: number | null
  ceiling: CeilingState
  bars: readonly Bar[]
  /** What nobody has said: whether the patient has it. */
  unsaid: readonly Bar[]
  combine: CombineRule
  /** All of the day, given and planned, whoever gives them. */
  doses: readonly CheckedDose[]
}

/** One agent against its row. Amounts in nanograms, limits and what is left rounded down, what is used up. */
export interface AgentCheck {
  agent: Agent
  limit: Nanograms
  used: Nanograms
  left: Nanograms
  wholeCartridges: number
  tenthsOfCartridges: number
  leftTenthsOfCartridge: number
  limitedBy: 'weight' | 'cap' | 'vasoconstrictor'
  by: string[]
}

export interface DoseAnswer {
  result: 'within-profile' | 'over-profile' | 'cannot-check'
  perAgent: AgentCheck[]
  combinedBy: CombineRule
  /** Tenths of a percent, rounded up; null where it cannot be worked out. */
  usedPermille: number | null
  findings: DoseFinding[]
}

/** A question of which nothing is missing. */
export type Known = DoseQuestion & { profile: LimitProfileId; weight: Grams; ageYears: number }
/** An agent of the question with its own maximum. */
export interface AgentRow {
  agent: Agent
  doses: CheckedDose[]
  /** The cartridge its counts are told in: the last one entered. */
  solution: CheckedDose
  limit: Nanograms
  limitedBy: 'weight' | 'cap'
  used: Nanograms
  /** Epinephrine that its own row allows; null where it prints none. */
  epinephrine: Nanograms | null
  /** What the same source's formula comes to; null where it prints none. */
  formula: Nanograms | null
}

export const sum = (amounts: readonly Nanograms[]): Nanograms =>
  nanograms(amounts.reduce((total: number, amount) => total + amount, 0))
export const giversOf = (doses: readonly CheckedDose[]): string[] => [
  ...new Set(doses.flatMap(({ by }) => (by === null ? [] : [by]))),
]

import type { Source } from './source.ts'

/** `stop` shuts a gate or refuses a command, `ask` waits for an answer, `note` is only told. */
export const LEVELS = ['stop', 'ask', 'note'] as const
export type Level = (typeof LEVELS)[number]

export const ACTORS = [
  'front-desk',
  'assistant',
  'dentist',
  'steriliser-lead',
  'instructor',
  'manager',
] as const
/** Who is next to act. */
export type Actor = (typeof ACTORS)[number]

/** The first four planks lie below the last two: bottom to top. */
export const CHECKS = ['patient', 'room', 'tray', 'allergies', 'numbness', 'plan'] as const
/** The six planks: patient, room and people, tray, allergies, numbness, plan. */
export type Check = (typeof CHECKS)[number]

export const GATES = ['seat', 'inject', 'clamp', 'start', 'leave'] as const
/** The acts that cannot be taken back, in order. */
export type Gate = (typeof GATES)[number]

/**
 * What is never passed over, whatever the reason: the five stops, a call for help, which a dentist ends by saying how it
 * ended, and what went into a mouth and is not counted out of it.
 */
export const NEVER = ['tooth', 'identity', 'allergy', 'pack', 'word', 'help', 'count'] as const
export type Never = (typeof NEVER)[number]

/** A rule's row: held against the area's RULES.md, its sentences and its tests by the house tests. */
export interface Rule {
  level: Level
  next: Actor
  /** Commands that answer it; a `stop` or `ask` without one does not pass the house. */
  answeredBy: readonly string[]
  /** The plank it lies on; null where it only refuses a command. */
  check: Check | null
  /** The gate before which it must be answered: open before it, it is an Ask; at it, a Hold. */
  gate: Gate | null
  /** The policy key it hangs on, or null. */
  policy: string | null
  source: Source
  /** Why nobody may pass over it; left out: who treats may, with a reason that is kept. */
  never?: Never
}

export type RuleTable = Record<string, Rule>

/**
 * What a rule answers: which rule, how grave, about what (`appointment:…`, `tooth:46`, `line:7`), and the
 * facts its sentence needs. Never the sentence.
 */
export type FindingOf<Name extends string, L extends Level, Details = unknown> = {
  rule: Name
  level: L
  about: string
} & Details

/** How a finding is said: to those at the chair, and to the desk; null where the desk is told nothing. */
export type Sentences<F extends { rule: string }> = {
  [Name in F['rule']]: {
    says: (finding: Extract<F, { rule: Name }>) => string
    desk: ((finding: Extract<F, { rule: Name }>) => string) | null
  }
}

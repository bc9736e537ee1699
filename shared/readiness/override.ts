import type { Finding } from '../finding.ts'
import type { IsolationChoice } from '../isolation/isolation-facts.ts'

/** The five stops that are never overridden, with why. Anything whose rule begins so is one of them. */
export const NEVER_OVERRIDDEN = [
  {
    kind: 'tooth',
    begins: ['tooth/', 'side/', 'work/', 'plan/', 'time-out/'],
    why: 'an unknown or ambiguous tooth',
  },
  { kind: 'identity', begins: ['identity/'], why: 'who the patient is' },
  { kind: 'allergy', begins: ['latex/', 'allergy/'], why: 'a confirmed allergy conflict' },
  { kind: 'pack', begins: ['pack/', 'load/'], why: 'an unreleased or failed pack' },
  { kind: 'word', begins: ['word/'], why: 'a missing or lapsed word of the dentist' },
] as const

/** Whether a dentist may pass over what this rule says, with a reason that is kept. */
export const canOverride = (rule: string): boolean =>
  !NEVER_OVERRIDDEN.some(({ begins }) => begins.some((beginning) => rule.startsWith(beginning)))

const OVERRIDDEN = 'overridden: '

/** An override as it is kept: an answer to the rule, with its reason and who gave it. */
export const makeOverride = (reason: string): string => `${OVERRIDDEN}${reason}`

/** Whether a dentist has passed over this very finding. */
export const isOverridden = (finding: Finding, choice: IsolationChoice | null): boolean =>
  choice !== null &&
  choice.answers.some(
    ({ rule, about, answer }) =>
      rule === finding.rule && about === finding.about && answer.startsWith(OVERRIDDEN),
  ) &&
  canOverride(finding.rule)

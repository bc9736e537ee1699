import { canonicalJson } from '../base/canonical.ts'
import type { Never } from '../base/rule.ts'
import type { Finding } from '../finding.ts'
import type { IsolationChoice } from '../isolation/isolation-facts.ts'
import { RULES } from '../rules.ts'
import type { AppointmentFacts } from './day-index.ts'

/** What is never passed over, with why. Which rules these are stands in each rule's row: `never`. */
export const WHY_NEVER: Record<Never, string> = {
  tooth: 'an unknown or ambiguous tooth',
  identity: 'who the patient is',
  allergy: 'a confirmed allergy conflict, or allergies not asked',
  pack: 'an unreleased, failed or unproven pack',
  word: 'a missing or lapsed word of the dentist',
  help: 'an open call for help: a dentist closes it, with how it ended',
  count: 'what went into the mouth and is not counted out: what is lost is called as lost',
}

/** Whether who treats may pass over what this rule says, with a reason that is kept. */
export const canOverride = (rule: Finding['rule']): boolean => RULES[rule].never === undefined

/** One finding as it stands, with all its details, as text: another tooth, count or hour is another finding. */
export const findingKey = (finding: Finding): string => canonicalJson(finding)

const OVERRIDDEN = 'overridden: '

type Passed = Omit<IsolationChoice['answers'][number], 'by' | 'at'>

/** An override as it is kept: an answer to the very finding, under the plan that stands, with its reason. */
export const makeOverride = (finding: Finding, reason: string, { plan }: AppointmentFacts): Passed => ({
  rule: finding.rule,
  about: finding.about,
  answer: `${OVERRIDDEN}${reason}`,
  passed: { finding: findingKey(finding), planNumber: plan?.number ?? 0 },
})

type Standing = Pick<AppointmentFacts, 'appointment' | 'choice' | 'plan'>

/**
 * Whether the dentist who treats now has passed over this very finding, under the plan that stands now. It falls
 * once the finding reads otherwise, the plan has another number, or another dentist treats.
 */
export const isOverridden = (finding: Finding, { appointment, choice, plan }: Standing): boolean =>
  (choice?.answers ?? []).some(
    ({ rule, about, by, passed }) =>
      rule === finding.rule &&
      about === finding.about &&
      passed != null &&
      by === appointment.dentistId &&
      passed.planNumber === (plan?.number ?? 0) &&
      passed.finding === findingKey(finding),
  ) && canOverride(finding.rule)

import type { Finding } from '../finding.ts'
import type { IsolationChoice } from '../isolation/isolation-facts.ts'
import type { Member } from '../people/clinic.ts'
import { RULES } from '../rules.ts'
import type { AppointmentFacts } from './day-index.ts'
import type { ReadinessFinding } from './findings.ts'
import { needsWord } from './gates.ts'
import { aboutOf, judgeOpen, type Sight } from './judges.ts'
import { weigh } from './planks.ts'
import { findLiveWord, isAgreeable } from './word.ts'

/** The proposal of the plan as it stands by the student of the appointment as it stands, or null. */
export const findProposal = ({
  choice,
  plan,
  appointment,
}: AppointmentFacts): IsolationChoice['answers'][number] | null =>
  choice?.answers.findLast(
    ({ rule, about, by }) =>
      rule === PROPOSAL && about === `plan:${plan?.number}` && by === appointment.studentId,
  ) ?? null

export const PROPOSAL = 'word/not-proposed'

/** Open findings that a word may not pass over: whatever asks or holds of plan, allergies, doses and permission. */
export const findOpenAsks = (sight: Sight): Finding[] =>
  judgeOpen(sight).filter(
    (finding) => mattersToTheWord(finding) && ['ask', 'hold'].includes(weigh(finding, sight).weight),
  )

function mattersToTheWord({ rule }: Finding): boolean {
  const { check } = RULES[rule]
  const isOfIt = check === 'plan' || check === 'allergies' || /^(?:dose|consent)\//.test(rule)
  return isOfIt && !rule.startsWith('word/')
}

/** Why this person may not give their word on this plan number now; empty where they may. */
export function judgeWordGiving(sight: Sight, given: { number: number; by: Member }): ReadinessFinding[] {
  const { facts } = sight
  const { plan } = facts
  const about = aboutOf(sight)
  if (plan === null || !needsWord(plan)) return [{ rule: 'word/no-plan', level: 'stop', about }]
  if (plan.number !== given.number) {
    return [{ rule: 'word/stale-number', level: 'stop', about, named: given.number, number: plan.number }]
  }
  const { state, open } = plan.agreed
  if (!isAgreeable(state) || open.length > 0) {
    return [{ rule: 'word/draft', level: 'stop', about, number: plan.number, open }]
  }
  const asks = findOpenAsks(sight).map((finding) => finding.rule)
  if (asks.length > 0) return [{ rule: 'word/asks-open', level: 'stop', about, open: asks }]
  if (findLiveWord(facts, sight.now)) {
    return [{ rule: 'word/already-given', level: 'stop', about, number: plan.number }]
  }
  return judgeGiver(sight, given.by)
}

/** The one who will do the work; for a student, the instructor, after the student's own step. */
function judgeGiver(sight: Sight, by: Member): ReadinessFinding[] {
  const { appointment, dentist, plan, policy } = sight.facts
  const about = aboutOf(sight)
  if (appointment.studentId === by.id) return [{ rule: 'word/same-person', level: 'stop', about }]
  if (appointment.dentistId !== by.id) {
    const booked = dentist?.shortName ?? null
    return [{ rule: 'word/not-booked-dentist', level: 'stop', about, booked }]
  }
  if (appointment.studentId === null || policy?.word.twoStepForStudents === false) return []
  return findProposal(sight.facts) === null
    ? [{ rule: 'word/not-proposed', level: 'stop', about, number: plan?.number ?? 0 }]
    : []
}

/** Where the clinic asks for two steps, the booked instructor looks at a student's isolation before the start. */
export const isStudentsOwnCheck = (
  { appointment, policy }: AppointmentFacts,
  by: Pick<Member, 'id'>,
): boolean =>
  appointment.studentId !== null &&
  policy?.word.twoStepForStudents !== false &&
  by.id !== appointment.dentistId

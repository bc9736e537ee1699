import type { Instant } from '../base/moment.ts'
import type { Finding } from '../finding.ts'
import type { Tooth } from '../teeth/tooth.ts'
import type { AppointmentFacts, DayIndex } from './day-index.ts'
import type { ReadinessFinding } from './findings.ts'
import { hasReached, needsDam, stageOf } from './gates.ts'
import { isOverridden } from './override.ts'
import { judgeWord } from './word.ts'

/** What a judge looks at: one appointment, its day around it, and the moment. */
export interface Sight {
  facts: AppointmentFacts
  day: DayIndex
  now: Instant
}

export const aboutOf = ({ facts }: Sight): string => `appointment:${facts.appointment.id}`
export const workedTeeth = (facts: AppointmentFacts): Tooth[] => [
  ...new Set(facts.work.flatMap((work) => work.teeth)),
]

/** "Stop, check side" holds until it is cleared, whatever else is in order. */
function judgeStopped({ facts }: Sight): ReadinessFinding[] {
  return facts.incidents
    .filter((incident) => incident.kind === 'stop-check-side' && incident.life.kind === 'open')
    .map((incident) => ({
      rule: 'side/stopped',
      level: 'stop',
      about: `appointment:${facts.appointment.id}`,
      since: incident.at,
      by: incident.by,
    }))
}

/** A plan that is not there, or still waits for an answer, is never taken for a plan. */
function judgePlan(sight: Sight): ReadinessFinding[] {
  const { plan } = sight.facts
  const about = aboutOf(sight)
  if (plan === null) return [{ rule: 'plan/missing', level: 'ask', about }]
  const { state, open } = plan.agreed
  if (open.length === 0 && state !== 'draft' && state !== 'undetermined') return []
  return [{ rule: 'plan/question', level: 'ask', about, number: plan.number, open }]
}

/** Tooth and side are read back before the needle, for the plan that stands now. */
function judgeReadBack(sight: Sight): ReadinessFinding[] {
  const { facts } = sight
  const teeth = workedTeeth(facts)
  if (teeth.length === 0 || hasReached(stageOf(facts), 'started') || isReadBack(facts)) return []
  return [{ rule: 'side/not-read-back', level: 'ask', about: aboutOf(sight), teeth }]
}

/** Whether tooth and side were read back for the plan that stands, and for its very teeth. */
export const isReadBack = (facts: AppointmentFacts): boolean =>
  agrees(facts, facts.visit?.readBack ?? null) || agrees(facts, facts.visit?.timeOut ?? null)

const agrees = (facts: AppointmentFacts, said: { teeth: Tooth[]; planNumber: number } | null): boolean =>
  said !== null && said.planNumber === (facts.plan?.number ?? 0) && sameTeeth(said.teeth, workedTeeth(facts))

export const sameTeeth = (some: readonly Tooth[], others: readonly Tooth[]): boolean =>
  some.length === others.length && some.every((tooth) => others.includes(tooth))

/** Whether the time-out was held on the plan that stands. */
export const hasTimeOut = (facts: AppointmentFacts): boolean => agrees(facts, facts.visit?.timeOut ?? null)

/** A day's history is confirmed once, on the day. */
function judgeHistory(sight: Sight): ReadinessFinding[] {
  const { facts } = sight
  const arrived = facts.visit?.steps.find((step) => step.stage === 'arrived' || step.stage === 'seated')
  const confirmed = facts.patient?.historyConfirmed ?? null
  if (hasReached(stageOf(facts), 'started')) return []
  if (confirmed !== null && arrived !== undefined && confirmed.at >= arrived.at) return []
  return [{ rule: 'history/not-confirmed', level: 'ask', about: aboutOf(sight) }]
}

/** Counted before the dam and again through it. */
function judgeRecount(sight: Sight): ReadinessFinding[] {
  const { facts } = sight
  if (!needsDam(facts.plan) || hasReached(stageOf(facts), 'started')) return []
  const counted = facts.visit?.recounted
  if (counted?.before != null && counted.through !== null) return []
  return [{ rule: 'teeth/not-recounted', level: 'ask', about: aboutOf(sight), teeth: workedTeeth(facts) }]
}

function judgeTimeOut(sight: Sight): ReadinessFinding[] {
  const { facts } = sight
  const teeth = workedTeeth(facts)
  if (teeth.length === 0 || hasReached(stageOf(facts), 'started') || hasTimeOut(facts)) return []
  return [{ rule: 'time-out/missing', level: 'ask', about: aboutOf(sight), teeth }]
}

/** What went into the mouth is counted out of it before the patient leaves. */
function judgeCounts(sight: Sight): ReadinessFinding[] {
  const { facts } = sight
  const placed = facts.asPlaced.length > 0 || facts.visit?.clamp != null
  if (!placed || facts.visit?.counts || stageOf(facts) === 'left') return []
  return [{ rule: 'counts/not-done', level: 'ask', about: aboutOf(sight) }]
}

/** Work is known and yet no tray stands for it: never taken for "no tray needed". */
function judgeTrayThere(sight: Sight): ReadinessFinding[] {
  const { facts } = sight
  if (facts.tray !== null || hasReached(stageOf(facts), 'finished')) return []
  return [{ rule: 'tray/none-yet', level: 'ask', about: aboutOf(sight) }]
}

type Judge = (sight: Sight) => Finding[]
const JUDGES: readonly Judge[] = [
  judgeStopped,
  judgePlan,
  ({ facts, now }) => judgeWord(facts, now),
  judgeReadBack,
  judgeHistory,
  judgeRecount,
  judgeTimeOut,
  judgeCounts,
  judgeTrayThere,
]

/** Everything that stands open on an appointment, from every area. */
export const judgeOpen = (sight: Sight): Finding[] =>
  JUDGES.flatMap((judge) => judge(sight)).filter((finding) => !isOverridden(finding, sight.facts.choice))

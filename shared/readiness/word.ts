import { addMinutes, type Instant } from '../base/moment.ts'
import type { MemberId } from '../ids.ts'
import type { Word } from '../isolation/isolation-facts.ts'
import { hasReached } from '../schedule/appointment.ts'
import type { AppointmentFacts } from './day-index.ts'
import type { ReadinessFinding } from './findings.ts'
import { needsWord, stageOf } from './gates.ts'

/** The word that counts: the last one given, whatever became of it. */
export const latestWord = (words: readonly Word[]): Word | null =>
  words.reduce<Word | null>((latest, word) => (latest && latest.at > word.at ? latest : word), null)

/** How the dentist's word stands on the plan as it is now. */
export type WordStanding =
  | { kind: 'not-needed' }
  | { kind: 'missing' }
  | { kind: 'live'; word: Word }
  | { kind: 'lapsed'; word: Word; why: Extract<Word['life'], { why: unknown }>['why'] }
  | { kind: 'changed-since-start'; word: Word; why: Extract<Word['life'], { why: unknown }>['why'] }

/**
 * A word is live only while its life says so, it names the plan that stands, and, before the start, it is no
 * older than the clinic's limit. Anything else is not live: an unknown limit does not lengthen it.
 */
export function standingOf(facts: AppointmentFacts, now: Instant): WordStanding {
  const word = latestWord(facts.words)
  if (!needsWord(facts.plan)) return { kind: 'not-needed' }
  if (word === null) return { kind: 'missing' }
  if (word.life.kind === 'lapsed') return { kind: 'lapsed', word, why: word.life.why }
  if (word.life.kind === 'changed-since-start') {
    return { kind: 'changed-since-start', word, why: word.life.why }
  }
  const started = hasReached(stageOf(facts), 'started')
  if (!isOfPlan(word, facts)) {
    return { kind: started ? 'changed-since-start' : 'lapsed', word, why: 'plan-changed' }
  }
  return !started && isTooOld(word, facts, now)
    ? { kind: 'lapsed', word, why: 'too-long-ago' }
    : { kind: 'live', word }
}

const isOfPlan = (word: Word, { plan }: AppointmentFacts): boolean =>
  plan !== null && word.planNumber === plan.number && word.planDigest === plan.digest

/** Longer ago than the clinic's limit. */
export const isTooOld = (word: Word, { policy }: AppointmentFacts, now: Instant): boolean =>
  policy === null || now > addMinutes(word.at, policy.word.liveMinutes)

/** The word that opens gates from the needle on, or null. */
export function findLiveWord(facts: AppointmentFacts, now: Instant): Word | null {
  const standing = standingOf(facts, now)
  return standing.kind === 'live' ? standing.word : null
}

/** What is open about the dentist's word. Nothing where no plan asks for one, or the plan is still a draft. */
export function judgeWord(facts: AppointmentFacts, now: Instant): ReadinessFinding[] {
  const standing = standingOf(facts, now)
  const { plan } = facts
  const about = `appointment:${facts.appointment.id}`
  switch (standing.kind) {
    case 'not-needed':
    case 'live':
      return []
    case 'missing':
      return plan && isAgreeable(plan.agreed.state)
        ? [{ rule: 'word/missing', level: 'ask', about, number: plan.number, former: formerOf(facts) }]
        : []
    case 'lapsed':
      return [
        { rule: 'word/lapsed', level: 'ask', about, why: standing.why, number: standing.word.planNumber },
      ]
    case 'changed-since-start':
      return [{ rule: 'word/changed-since-start', level: 'ask', about, why: standing.why }]
  }
}

const formerOf = ({ appointment }: AppointmentFacts): MemberId | null =>
  appointment.formerDentist?.memberId ?? null

/** Whether a plan in this state can be agreed to. */
export const isAgreeable = (state: string): boolean => state === 'planned' || state === 'alternative'

import type { Instant } from '../base/moment.ts'
import type { IsolationNote } from '../isolation/findings.ts'
import { judgeClampSites } from '../isolation/past.ts'
import type { FormerDentist } from '../schedule/appointment.ts'
import { hasReached } from '../schedule/appointment.ts'
import { TEETH } from '../teeth/tooth.ts'
import type { AppointmentFacts } from './day-index.ts'
import { stageOf } from './gates.ts'
import { standingOf } from './word.ts'

/** What a dentist who takes a visit over reads first, beside what is known of allergies. */
export interface TakenOver {
  former: FormerDentist
  /** A plan waits for the word of who treats now. */
  needsWord: boolean
  /** What earlier clamps left behind, at whatever tooth. */
  clampTrouble: IsolationNote[]
  /** The booking's note, and what was said of allergies in words that nobody has placed yet. */
  notes: string[]
}

/** Null where whom the patient expects treats, and once the work has started. */
export function findTakenOver(facts: AppointmentFacts, now: Instant): TakenOver | null {
  const { appointment, allergies, chart } = facts
  const former = appointment.formerDentist ?? null
  if (former === null || hasReached(stageOf(facts), 'started')) return null
  const { kind } = standingOf(facts, now)
  const statements = allergies?.statements.map(({ text }) => text) ?? []
  return {
    former,
    needsWord: kind === 'missing' || kind === 'lapsed',
    clampTrouble: judgeClampSites(chart?.clampSites ?? undefined, TEETH),
    notes: [appointment.note, ...statements].filter((text) => text.trim() !== ''),
  }
}

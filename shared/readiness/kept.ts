import { MINUTE } from '../base/moment.ts'
import type { Appointment } from '../schedule/appointment.ts'
import { alertsFor, expectedStartOf, rivalsOf } from './around.ts'
import type { AppointmentFacts } from './day-index.ts'
import type { Sight } from './judges.ts'

/**
 * Everything a judgement of one appointment hangs on, by identity: its own facts, the minute, and what of the day
 * around it is looked at. Two equal lists give the same judgement, so one change leaves the other lines as they are;
 * a line may be up to a minute behind a limit that runs out. Gates are never judged from here.
 */
function dependenciesOf({ facts, day, now }: Sight): unknown[] {
  const { appointment } = facts
  const rivals = [...rivalsOf(day, appointment)]
  return [
    Math.floor(now / MINUTE),
    expectedStartOf(day, appointment, now),
    day.world.roster,
    ...ownFacts(facts),
    ...rivals,
    ...rivals.map((rival) => day.visits.get(rival.id)),
    ...alertsFor(day, appointment),
  ]
}

const ownFacts = (facts: AppointmentFacts): unknown[] =>
  Object.values(facts).flatMap((fact) => (Array.isArray(fact) ? [fact.length, ...fact] : [fact]))

interface Kept<T> {
  on: unknown[]
  judged: T
}

/** Keeps the last judgement of each appointment while nothing it hangs on has moved. */
export function keeping<T>(judge: (sight: Sight) => T): (sight: Sight) => T {
  const last = new WeakMap<Appointment, Kept<T>>()
  return (sight) => {
    const on = dependenciesOf(sight)
    const kept = last.get(sight.facts.appointment)
    if (kept && isSame(kept.on, on)) return kept.judged
    const judged = judge(sight)
    last.set(sight.facts.appointment, { on, judged })
    return judged
  }
}

const isSame = (some: readonly unknown[], others: readonly unknown[]): boolean =>
  some.length === others.length && some.every((each, index) => Object.is(each, others[index]))

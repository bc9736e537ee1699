import { MINUTE } from '../base/moment.ts'
import type { Appointment } from '../schedule/appointment.ts'
import { alertsFor, expectedStartOf, rivalsOf } from './around.ts'
import type { Sight } from './judges.ts'

interface Kept<T> {
  sight: Sight
  judged: T
}

/** Keeps the last judgement of each appointment while nothing it hangs on has moved. */
export function keeping<T>(judge: (sight: Sight) => T): (sight: Sight) => T {
  const last = new WeakMap<Appointment, Kept<T>>()
  return (sight) => {
    const { appointment } = sight.facts
    const kept = last.get(appointment)
    const judged = kept && showTheSame(kept.sight, sight) ? kept.judged : judge(sight)
    last.set(appointment, { sight, judged })
    return judged
  }
}

/**
 * Whether two sights of one appointment are alike in everything a judgement hangs on, by identity: its own facts,
 * the minute, and what of the day around it is looked at. So one change leaves the other lines as they are; a line
 * may be up to a minute behind a limit that runs out. Gates are never judged from here.
 */
const showTheSame = (some: Sight, other: Sight): boolean =>
  Math.floor(some.now / MINUTE) === Math.floor(other.now / MINUTE) &&
  isSame(Object.values(some.facts), Object.values(other.facts)) &&
  expectedOf(some) === expectedOf(other) &&
  isSameAround(some, other)

const expectedOf = ({ facts, day, now }: Sight) => expectedStartOf(day, facts.appointment, now)

/** Whoever else may want the room, a person or this patient, how far they are, and whose name is like this one. */
function isSameAround(some: Sight, other: Sight): boolean {
  const [before, after] = [some.day.world, other.day.world]
  if (before.roster !== after.roster) return false
  if (
    before.appointment === after.appointment &&
    before.visit === after.visit &&
    before.patient === after.patient
  ) {
    return true
  }
  return isSame(aroundIn(some), aroundIn(other))
}

function aroundIn({ day, facts: { appointment } }: Sight): unknown[] {
  const rivals = [...rivalsOf(day, appointment)]
  return [...rivals, ...rivals.map((rival) => day.visits.get(rival.id)), ...alertsFor(day, appointment)]
}

const isSame = (some: unknown, other: unknown): boolean =>
  some === other ||
  (Array.isArray(some) &&
    Array.isArray(other) &&
    some.length === other.length &&
    some.every((each, index) => isSame(each, other[index])))

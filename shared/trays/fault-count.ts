import { type Day, mondayOf } from '../base/moment.ts'

/** A line that was found not to count: at laying out, on opening, or past its date when it was taken. */
export interface FoundFault {
  /** Kind of pack, or the kit's own key of an item without one. */
  of: string
  why: string
  day: Day
}

export interface FaultCount {
  /** The week's Monday. */
  monday: Day
  of: string
  why: string
  count: number
}

/** For the weekly review: the latest week first, in it what was found most often. */
export function countFaults(found: readonly FoundFault[]): FaultCount[] {
  const counts = new Map<string, FaultCount>()
  for (const { of, why, day } of found) {
    const monday = mondayOf(day)
    const key = JSON.stringify([monday, of, why])
    counts.set(key, { monday, of, why, count: (counts.get(key)?.count ?? 0) + 1 })
  }
  return [...counts.values()].sort(
    (a, b) =>
      b.monday.localeCompare(a.monday) ||
      b.count - a.count ||
      a.of.localeCompare(b.of) ||
      a.why.localeCompare(b.why),
  )
}

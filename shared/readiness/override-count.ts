import { type Day, mondayOf } from '../base/moment.ts'

/** One act on one appointment: an override of a rule, or a command that answers rules. */
export interface Settled {
  kind: string
  /** The rule passed over; null where the command answered it. */
  rule: string | null
  appointmentId: string
  day: Day
}

export interface OverrideCount {
  /** The week's Monday. */
  monday: Day
  rule: string
  /** Appointments on which it was passed over that week, and on which it was answered instead. */
  overridden: number
  answered: number
  /** Passed over more often than answered: the rule, or what is done, wants looking at. */
  often: boolean
}

/**
 * Overrides by week and rule, the latest week first. An appointment counts once; where the rule was both passed over and
 * answered on it, it counts as passed over. Exactly half is not often.
 */
export function countOverrides(
  settled: readonly Settled[],
  answeredBy: (rule: string) => readonly string[],
): OverrideCount[] {
  const mondays = [...new Set(settled.map(({ day }) => mondayOf(day)))]
  return mondays
    .flatMap((monday) => {
      const ofWeek = settled.filter(({ day }) => mondayOf(day) === monday)
      const rules = new Set(ofWeek.flatMap(({ rule }) => rule ?? []))
      return [...rules].map((rule) => ({ monday, rule, ...countOne(ofWeek, rule, answeredBy(rule)) }))
    })
    .sort(
      (a, b) =>
        b.monday.localeCompare(a.monday) || b.overridden - a.overridden || a.rule.localeCompare(b.rule),
    )
}

function countOne(ofWeek: readonly Settled[], rule: string, answering: readonly string[]) {
  const passed = new Set(
    ofWeek.filter((each) => each.rule === rule).map(({ appointmentId }) => appointmentId),
  )
  const answered = new Set(
    ofWeek
      .filter(
        (each) => each.rule === null && answering.includes(each.kind) && !passed.has(each.appointmentId),
      )
      .map(({ appointmentId }) => appointmentId),
  )
  return { overridden: passed.size, answered: answered.size, often: passed.size > answered.size }
}

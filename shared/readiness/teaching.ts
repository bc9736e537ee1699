import type { Finding } from '../finding.ts'
import type { MemberId } from '../ids.ts'
import type { OwnDrawing } from '../isolation/isolation-facts.ts'
import { isSameTeeth } from '../schedule/seat.ts'
import type { Tray } from '../trays/tray.ts'
import type { Board, BoardLine } from './board-types.ts'
import { type AppointmentFacts, type DayIndex, findAppointment } from './day-index.ts'
import { needsDam } from './gates.ts'
import { workedTeeth } from './judges.ts'
import type { Readiness } from './readiness.ts'

/** Whether there is a plan that a student could have drawn: a dam with at least one sheet. */
export const canBeDrawn = ({ plan }: AppointmentFacts): boolean =>
  needsDam(plan) && (plan?.agreed.sheets.length ?? 0) > 0

/** What the student of this appointment drew for the work as it is; null: nothing, or it was for other teeth. */
export function findDrawing(facts: AppointmentFacts): OwnDrawing | null {
  const drawing = facts.choice?.drawing ?? null
  if (drawing === null || drawing.by !== facts.appointment.studentId) return null
  return isSameTeeth(drawing.worked, workedTeeth(facts)) ? drawing : null
}

/** Whether the plan is kept from this person until they have drawn one of their own. Teaching, not secrecy. */
export const mustDrawFirst = (facts: AppointmentFacts, memberId: MemberId): boolean =>
  facts.appointment.studentId === memberId &&
  facts.student?.drawsFirst === true &&
  canBeDrawn(facts) &&
  findDrawing(facts) === null

const SAYS_PLAN: ReadonlySet<Finding['rule']> = new Set([
  'plan/question',
  'numbness/not-tested',
  'numbness/felt',
])
/** Anchor and field are named by the planner's own rules, and by whatever names a clamp: a tray's line names its tooth. */
const saysPlan = (finding: Finding): boolean =>
  SAYS_PLAN.has(finding.rule) ||
  /^(?:anchor|field|clamp|sheet|hole)\//.test(finding.rule) ||
  Object.values(finding).some((value) => typeof value === 'string' && isClampLine(value))

const isClampLine = (text: string): boolean => /\bclamp\b/.test(text)

const hide = (finding: Finding): Finding =>
  saysPlan(finding) ? { rule: 'word/not-drawn', level: 'stop', about: finding.about } : finding

/** How an appointment stands, for a student who has not drawn yet: one line stands in for all that speak of the plan. */
export function putAwayPlan({ line, open }: Readiness): Readiness {
  const hidden = open.map(hide)
  return {
    open: hidden.filter((each, index) => hidden.findIndex(isSame(each)) === index),
    line: putAwayOn(line),
  }
}

const isSame =
  (one: Finding) =>
  (other: Finding): boolean =>
    one === other || (one.rule === 'word/not-drawn' && other.rule === one.rule)

const putAwayOn = (line: BoardLine): BoardLine => ({
  ...line,
  planks: line.planks.map((plank) => ({ ...plank, finding: plank.finding && hide(plank.finding) })),
  missing: line.missing && hide(line.missing),
})

/** A board as this person may see it: what they must draw first says nothing of its plan; another's is as it was. */
export function putAwayOnBoard(board: Board, day: DayIndex, memberId: MemberId): Board {
  const drawn = new Set(
    (day.ofStudent.get(memberId) ?? [])
      .filter(({ id }) => {
        const facts = findAppointment(day, id)
        return facts !== null && mustDrawFirst(facts, memberId)
      })
      .map(({ id }) => id),
  )
  if (drawn.size === 0) return board
  const shown = (line: BoardLine): BoardLine => (drawn.has(line.appointmentId) ? putAwayOn(line) : line)
  return {
    ...board,
    lanes: board.lanes.map((lane) => ({
      ...lane,
      now: lane.now && shown(lane.now),
      next: lane.next.map(shown),
    })),
    unplaced: board.unplaced.map(shown),
  }
}

/** A line of the tray, by the name it has for a student who has not drawn yet. */
export const putAwayLine = (name: string): string =>
  isClampLine(name) ? `${/\bspare\b/.test(name) ? 'spare clamp' : 'clamp'}, as you will draw it` : name

/** A tray names its first missing line itself. */
export const putAwayTray = (tray: Tray): Tray => ({
  ...tray,
  firstMissing: tray.firstMissing && putAwayLine(tray.firstMissing),
})

import { clockTimeOf, dayOf, type Instant, type Zone } from '#shared/base/moment.ts'
import type { Board, BoardLine } from '#shared/readiness/board-types.ts'
import { sayState } from '#shared/words/en/states.ts'
import { say } from '#shared/words/en.ts'

/** What `board` prints, as the command line promises it. */
export function boardAnswer(board: Board, { revision, zone }: { revision: number; zone: Zone }): object {
  return {
    revision,
    at: makeIso(board.at, zone),
    day: board.day,
    operatories: board.lanes.map((lane) => ({
      name: lane.name,
      now: lane.now && appointmentOf(lane.now, zone),
      next: lane.next.map((line) => appointmentOf(line, zone)),
    })),
    unplaced: board.unplaced.map((line) => appointmentOf(line, zone)),
  }
}

const appointmentOf = (line: BoardLine, zone: Zone): object => ({
  id: line.appointmentId,
  start: makeIso(line.start, zone),
  expectedStart: makeIso(line.expectedStart, zone),
  stage: line.stage,
  gate: line.gate,
  state: line.state,
  says: sayState(line.state, line.gate),
  checks: Object.fromEntries(line.planks.map((plank) => [plank.check, plank.state])),
  missing: line.missing && say(line.missing),
  nextToAct: line.next,
})

/** ISO 8601 with offset, to the minute of the zone's clock. */
export const makeIso = (at: Instant, zone: Zone): string =>
  `${dayOf(at, zone)}T${clockTimeOf(at, zone)}:${secondsOf(at)}${offsetOf(at, zone)}`

const secondsOf = (at: Instant): string => `${Math.floor(at / 1000) % 60}`.padStart(2, '0')

function offsetOf(at: Instant, timeZone: Zone): string {
  const parts = new Intl.DateTimeFormat('en', { timeZone, timeZoneName: 'longOffset' }).formatToParts(at)
  const name = parts.find((part) => part.type === 'timeZoneName')?.value ?? 'GMT'
  return name === 'GMT' ? '+00:00' : name.slice('GMT'.length)
}

import { operatoryWords } from '#app/_ui/labels.ts'
import { type Instant, MINUTE, minutesBetween } from '#shared/base/moment.ts'
import type {
  Board,
  BoardLine,
  JudgedBoard,
  JudgedLane,
  JudgedLine,
  Lane,
  ReadinessState,
} from '#shared/readiness/board-types.ts'
import { deskTaskOf } from '#shared/readiness/desk-task.ts'
import { sayMissing } from '#shared/words/planks.ts'

/** A board as it is shown: the same shape whether its lines were judged here or on the server. */
export const shownBoard = (board: Board): JudgedBoard => ({
  ...board,
  lanes: board.lanes.map(shownLane),
  unplaced: board.unplaced.map(shownLine),
})

const shownLane = (lane: Lane): JudgedLane => ({
  ...lane,
  now: lane.now && shownLine(lane.now),
  next: lane.next.map(shownLine),
})
const shownLine = (line: BoardLine): JudgedLine => ({
  ...line,
  says: line.missing ? sayMissing(line.missing) : '',
  task: deskTaskOf(line.missing),
})

const GRAVITY: readonly ReadinessState[] = ['hold', 'ask', 'preparing', 'ready']

/** The gravest state of what a lane shows: its running appointment and the next one; null for an empty lane. */
export function laneState(lane: Pick<JudgedLane, 'now' | 'next'>): ReadinessState | null {
  const states = [lane.now?.state, lane.next[0]?.state]
  return GRAVITY.find((state) => states.includes(state)) ?? null
}

/** How many lanes stand in each state, gravest first; empty lanes count for none. */
export const countLanes = (board: JudgedBoard): { state: ReadinessState; count: number }[] =>
  GRAVITY.map((state) => ({
    state,
    count: board.lanes.filter((lane) => laneState(lane) === state).length,
  }))

export type StartsIn = { kind: 'in'; minutes: number } | { kind: 'due' } | { kind: 'late'; minutes: number }

/** Minutes to the expected start. A late one is told from the booked start, which is what was promised. */
export function startsIn(line: Pick<JudgedLine, 'start' | 'expectedStart'>, now: Instant): StartsIn {
  const minutes = Math.ceil((line.expectedStart - now) / MINUTE)
  if (minutes > 0) return { kind: 'in', minutes }
  const late = minutesBetween(line.start, now)
  return late > 0 ? { kind: 'late', minutes: late } : { kind: 'due' }
}

/** Lanes that have come to need someone, as one sentence each, for those who listen to the screen. */
export function newlyCalling(before: JudgedBoard, after: JudgedBoard): string[] {
  const old = new Map(before.lanes.map((lane) => [lane.operatoryId, laneState(lane)]))
  return after.lanes.flatMap((lane) => {
    const state = laneState(lane)
    if (state !== 'hold' && state !== 'ask') return []
    if (old.get(lane.operatoryId) === state) return []
    const line = [lane.now, lane.next[0]].find((candidate) => candidate?.state === state)
    return [`${operatoryWords(lane.name)}: ${state}. ${line?.says ?? ''}`]
  })
}

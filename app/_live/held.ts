import type { Instant } from '#shared/base/moment.ts'
import { applyChange, type Change } from '#shared/change.ts'
import type { World } from '#shared/facts.ts'
import type { JudgedBoard, JudgedLane } from '#shared/readiness/board-types.ts'
import type { ShortSet } from '#shared/words/short-sets.ts'
import type { StreamEvent } from './event-stream.ts'

/** What a clinical screen holds: facts at a revision. */
export interface HeldWorld {
  revision: number
  /** The clinic's clock when this was said. */
  at: Instant
  world: World
}

/** What a clinical screen holds of a day: its facts, and what the server judged of sets, since no pack is among them. */
export interface HeldDay extends HeldWorld {
  short: ShortSet[]
}

/** What a desk or a wall holds: lanes judged on the server. */
export interface HeldBoard {
  revision: number
  at: Instant
  board: JudgedBoard
  short: ShortSet[]
}

export type Held = HeldWorld | HeldDay | HeldBoard

/** What comes of an event: what is held next, or that a snapshot must be taken afresh. */
export type Step<H extends Held> = { kind: 'held'; held: H } | { kind: 'resync' }

export function stepWorld<H extends HeldWorld>(held: H, event: StreamEvent): Step<H> {
  if (event.name === 'resync') return { kind: 'resync' }
  if (event.name !== 'change') return { kind: 'held', held }
  const { revision, at, change } = JSON.parse(event.data) as { revision: number; at: Instant; change: Change }
  if (revision <= held.revision) return { kind: 'held', held }
  return { kind: 'held', held: { ...held, revision, at, world: applyChange(held.world, change) } }
}

export const stepDay = (held: HeldDay, event: StreamEvent): Step<HeldDay> =>
  event.name === 'short' ? stepShort(held, event) : stepWorld(held, event)

/** What is short is told whole, each time it differs. */
function stepShort<H extends HeldDay | HeldBoard>(held: H, event: StreamEvent): Step<H> {
  const { at, short } = JSON.parse(event.data) as Pick<HeldDay, 'at' | 'short'>
  return { kind: 'held', held: { ...held, at, short } }
}

export function stepBoard(held: HeldBoard, event: StreamEvent): Step<HeldBoard> {
  if (event.name === 'resync') return { kind: 'resync' }
  if (event.name === 'short') return stepShort(held, event)
  if (event.name !== 'lanes') return { kind: 'held', held }
  const { revision, at, lanes, unplaced } = JSON.parse(event.data) as LanesSaid
  if (revision < held.revision) return { kind: 'held', held }
  const board = { ...held.board, at, unplaced: unplaced ?? held.board.unplaced }
  return { kind: 'held', held: { ...held, revision, at, board: withLanes(board, lanes) } }
}

interface LanesSaid {
  revision: number
  at: Instant
  lanes: JudgedLane[]
  /** Only where they differ. */
  unplaced?: JudgedBoard['unplaced']
}

/** The board with newer lanes in place of those they replace. */
export function withLanes(board: JudgedBoard, lanes: JudgedLane[]): JudgedBoard {
  const newer = new Map(lanes.map((lane) => [lane.operatoryId, lane]))
  const kept = board.lanes.map((lane) => newer.get(lane.operatoryId) ?? lane)
  const known = new Set(board.lanes.map((lane) => lane.operatoryId))
  const added = lanes.filter((lane) => !known.has(lane.operatoryId))
  return { ...board, lanes: [...kept, ...added].sort((a, b) => a.position - b.position) }
}

export const FRESHNESS = ['fresh', 'reconnecting', 'stale'] as const
/** How far what stands on the screen may be relied on. */
export type Freshness = (typeof FRESHNESS)[number]

/** The server gives a sign of life every 15 seconds; two seconds more are the network's. */
export const QUIET_MS = 17_000
export const STALE_MS = 60_000

export function freshnessAfter(silentMs: number): Freshness {
  if (silentMs > STALE_MS) return 'stale'
  return silentMs > QUIET_MS ? 'reconnecting' : 'fresh'
}

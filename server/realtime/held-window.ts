import type { Instant } from '#shared/base/moment.ts'
import { applyChange, type Change, isEmpty } from '#shared/change.ts'
import type { World } from '#shared/facts.ts'
import { boardFor } from '#shared/readiness/board.ts'
import type { JudgedBoard } from '#shared/readiness/board-types.ts'
import type { Window } from '#shared/window.ts'
import { type JudgedAudience, judgedFor } from '#shared/words/judged.ts'
import { cutChange, differenceOf } from './cut.ts'

/** An event larger than this, in bytes, is not worth sending to every screen: they take a snapshot. */
const LARGEST_EVENT = 64 * 1024
/** How many bytes of recent events a window keeps for screens that come back. */
const RING_BYTES = 512 * 1024

/** One server-sent event, encoded once for all screens of its window. */
export interface Encoded {
  revision: number
  bytes: Buffer
}

/** What one window holds in this process, and what it lately told. */
export interface HeldWindow {
  window: Window
  revision: number
  world: World
  /** Every event after this revision is in the ring. */
  from: number
  ring: Encoded[]
  ringBytes: number
  judged: Map<JudgedAudience, Judged>
}

interface Judged {
  board: JudgedBoard
  lanes: Map<string, string>
  unplaced: string
}

export const holdWindow = (
  window: Window,
  { revision, world }: { revision: number; world: World },
): HeldWindow => ({
  window,
  revision,
  world,
  from: revision,
  ring: [],
  ringBytes: 0,
  judged: new Map(),
})

export const encodeEvent = (name: string, revision: number, data: object): Encoded => ({
  revision,
  bytes: Buffer.from(`id: ${revision}\nevent: ${name}\ndata: ${JSON.stringify({ revision, ...data })}\n\n`),
})

export const resyncAt = (revision: number): Encoded => encodeEvent('resync', revision, {})

export interface Step {
  revision: number
  at: Instant
}

/** Moves a window on by a change of the clinic; the event to send, null where it shows nothing new, or `reread`. */
export function advance(held: HeldWindow, change: Change, step: Step): Encoded | null | 'reread' {
  if (step.revision <= held.revision) return null
  const cut = cutChange(held.window, held.world, change)
  return cut === 'reread' ? cut : take(held, cut, step)
}

/** Moves a window on to a fresh reading of it. */
export const refresh = (held: HeldWindow, fresh: World, step: Step): Encoded | null =>
  take(held, differenceOf(held.world, fresh), step)

function take(held: HeldWindow, change: Change, { revision, at }: Step): Encoded | null {
  held.revision = revision
  if (isEmpty(change)) return null
  held.world = applyChange(held.world, change)
  const event = encodeEvent('change', revision, { at, change })
  if (event.bytes.length > LARGEST_EVENT) {
    held.ring = []
    held.ringBytes = 0
    held.from = revision
    return resyncAt(revision)
  }
  remember(held, event)
  return event
}

function remember(held: HeldWindow, event: Encoded): void {
  held.ring.push(event)
  held.ringBytes += event.bytes.length
  while (held.ringBytes > RING_BYTES) {
    const oldest = held.ring.shift()
    if (!oldest) return
    held.ringBytes -= oldest.bytes.length
    held.from = oldest.revision
  }
}

/** What a screen at this revision has missed: the events since, or a resync where they are no longer kept. */
export function missedSince(held: HeldWindow, since: number): Encoded[] {
  if (since < held.from || since > held.revision) return [resyncAt(held.revision)]
  return held.ring.filter((event) => event.revision > since)
}

/** The day judged for a screen that may hold no clinical fact. */
export function judge(held: HeldWindow, audience: JudgedAudience, now: Instant): JudgedBoard | null {
  const { window, world } = held
  return window.kind === 'day' ? judgedFor(boardFor(world, { ...window, now }), audience) : null
}

/** The lanes that differ from those last sent to this audience, encoded; null where none does. */
export function judgeAnew(held: HeldWindow, audience: JudgedAudience, at: Instant): Encoded | null {
  const board = judge(held, audience, at)
  if (board === null) return null
  const last = held.judged.get(audience)
  const texts = board.lanes.map((lane) => [lane.operatoryId, JSON.stringify(lane)] as const)
  const unplaced = JSON.stringify(board.unplaced)
  held.judged.set(audience, { board, lanes: new Map(texts), unplaced })
  const differing = new Set(
    texts.filter(([id, text]) => last?.lanes.get(id) !== text).map(([id]) => id as string),
  )
  const lanes = board.lanes.filter((lane) => differing.has(lane.operatoryId))
  if (lanes.length === 0 && last?.unplaced === unplaced) return null
  const more = last?.unplaced === unplaced ? {} : { unplaced: board.unplaced }
  return encodeEvent('lanes', held.revision, { at, lanes, ...more })
}

/** Everything an audience was last sent, for a screen that has just come. */
export function wholeBoard(held: HeldWindow, audience: JudgedAudience): Encoded | null {
  const board = held.judged.get(audience)?.board
  return board
    ? encodeEvent('lanes', held.revision, { at: board.at, lanes: board.lanes, unplaced: board.unplaced })
    : null
}

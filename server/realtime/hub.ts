import type { Logger } from 'pino'
import { asClinic, readTogether } from '#db/as-clinic.ts'
import { readWindow } from '#db/read.ts'
import { type Instant, instant } from '#shared/base/moment.ts'
import type { Change } from '#shared/change.ts'
import type { World } from '#shared/facts.ts'
import { type ClinicId, parseId } from '#shared/ids.ts'
import type { Audience } from '#shared/people/role.ts'
import type { JudgedBoard } from '#shared/readiness/board-types.ts'
import { makeWindow, type Window } from '#shared/window.ts'
import type { JudgedAudience } from '#shared/words/judged.ts'
import type { ShortSet } from '#shared/words/short-sets.ts'
import { type Keeper, readClinicTime } from '../commands/perform.ts'
import {
  advance,
  type Encoded,
  type HeldWindow,
  holdWindow,
  judge,
  judgeAnew,
  missedSince,
  refresh,
  resyncAt,
  wholeBoard,
} from './held-window.ts'
import { followShort, judgeShort, type ShortDoors, type ShortFollower, shortEvent } from './short-sets.ts'

export const HEARTBEAT_MS = 15_000
const MINUTE_MS = 60_000
const RETRY_MS = 1_000
/** How long a window that nobody looks at is kept at hand. */
const KEPT_UNUSED_MS = 120_000

/** A screen at the other end of a stream. */
export interface Screen {
  sessionId: string
  audience: Audience
  send: (bytes: Buffer) => void
  /** Whether the sign-in behind it still stands. */
  isSignedIn: () => Promise<boolean>
  end: () => void
}

export interface Hub {
  /** The facts of a window at a revision not older than the call. */
  snapshot: (clinicId: ClinicId, window: Window) => Promise<Snapshot>
  /** The same day, judged for an audience that may hold no clinical fact. */
  judged: (clinicId: ClinicId, window: DayWindow, audience: JudgedAudience) => Promise<JudgedSnapshot>
  /** Tells a screen what it missed and then what comes, until the returned function is called. */
  join: (clinicId: ClinicId, asked: { window: Window; since: number }, screen: Screen) => Promise<() => void>
  /** Cuts every stream that was opened under a sign-in. */
  endSession: (sessionId: string) => void
  screens: () => number
  close: () => void
}
type DayWindow = Extract<Window, { kind: 'day' }>
export interface Snapshot {
  revision: number
  at: Instant
  world: World
  /** Of a day: the appointments that find too few sets. */
  short: ShortSet[]
}
export interface JudgedSnapshot extends Omit<Snapshot, 'world'> {
  board: JudgedBoard
}

/** One clinic as this process follows it. */
interface Feed {
  clinicId: ClinicId
  /** Every journal row up to here has been told. */
  revision: number
  /** From the wall's clock to the clinic's. */
  offset: number
  windows: Map<string, Watched>
  /** One thing at a time, in order. */
  queue: Promise<unknown>
  /** A catching-up that waits in the queue and will see all that is committed by then. */
  waiting: Promise<void> | null
}

interface Watched {
  held: HeldWindow
  screens: Set<Screen>
  usedAt: number
  /** Of a day: what it is short of. */
  short: ShortFollower | null
}

interface JournalRow {
  revision: number
  change: Change | null
}

export interface HubOptions extends Keeper {
  log: Logger
  /** How often a screen is given a sign of life and its sign-in looked up. */
  heartbeatMs?: number
}

/** A change larger than this as it is stored, in bytes, is not read whole: its windows are read anew. */
const LARGEST_CHANGE = 64 * 1024

const BEAT = Buffer.from(': beat\n\n')

/**
 * One per process. It is told of each commit, reads the journal from where it stands, cuts each change to the
 * windows that are looked at, encodes it once per window and sends it to their screens in order.
 */
export async function openHub({ log, heartbeatMs = HEARTBEAT_MS, ...keeper }: HubOptions): Promise<Hub> {
  const feeds = new Map<ClinicId, Feed>()
  let closed = false

  const feedOf = (clinicId: ClinicId): Feed => {
    const found = feeds.get(clinicId)
    if (found) return found
    const feed: Feed = {
      clinicId,
      revision: 0,
      offset: 0,
      windows: new Map(),
      queue: Promise.resolve(),
      waiting: null,
    }
    feeds.set(clinicId, feed)
    return feed
  }
  const inTurn = <T>(feed: Feed, work: () => Promise<T>): Promise<T> => {
    const turn = feed.queue.then(work)
    feed.queue = turn.catch(() => {})
    return turn
  }
  const now = (feed: Feed): Instant => instant(keeper.wall() + feed.offset)

  /** Tells all that is committed. Calls that come while one waits share it. */
  const catchUp = (feed: Feed): Promise<void> => {
    feed.waiting ??= inTurn(feed, async () => {
      feed.waiting = null
      if (feed.windows.size > 0) await tellAll(feed)
    })
    return feed.waiting
  }

  const tellAll = async (feed: Feed): Promise<void> => {
    // In one round trip: every screen waits for it.
    const [rows] = await readTogether<[JournalRow]>(keeper.database, feed.clinicId, [
      `select revision, case when pg_column_size(change) < ${LARGEST_CHANGE} then change end as change from journal
        where clinic_id = '${feed.clinicId}' and revision > ${feed.revision} order by revision`,
    ])
    for (const row of rows) {
      const [clinic] = row.change?.put.clinic ?? []
      if (clinic) feed.offset = clinic.clock.kind === 'demo' ? clinic.clock.offset : 0
      for (const watched of feed.windows.values()) await tellWindow(feed, watched, row)
      feed.revision = row.revision
    }
  }

  const tellWindow = async (feed: Feed, watched: Watched, row: JournalRow): Promise<void> => {
    const { held } = watched
    if (row.revision <= held.revision) return
    const step = { revision: row.revision, at: now(feed) }
    const came = row.change === null ? 'reread' : advance(held, row.change, step)
    const event = came === 'reread' ? await reread(feed, held) : came
    if (event) tell(watched, event)
    tellJudged(feed, watched)
    watched.short?.soon()
  }

  const shortDoors = (feed: Feed, watched: Watched): ShortDoors => ({
    judge: () => judgeShort(keeper.database, feed.clinicId, { held: watched.held, now: () => now(feed) }),
    tell: () => {
      for (const screen of watched.screens) if (screen.audience !== 'wall') sendShort(feed, watched, screen)
    },
    fail: (error) => {
      if (!closed) log.warn({ err: error, clinicId: feed.clinicId }, 'what is short could not be judged')
    },
  })
  const sendShort = (feed: Feed, { held, short }: Watched, { audience, send }: Screen): void => {
    if (short) send(shortEvent(held.revision, now(feed), short.sets()[audience]).bytes)
  }

  const reread = async (feed: Feed, held: HeldWindow): Promise<Encoded | null> => {
    const fresh = await readFresh(feed, held.window)
    return refresh(held, fresh.world, { revision: fresh.revision, at: now(feed) })
  }

  const readFresh = (feed: Feed, window: Window) =>
    asClinic(
      keeper.database,
      feed.clinicId,
      async (tx) => {
        const [read, time] = await Promise.all([
          readWindow(tx, feed.clinicId, window),
          readClinicTime(tx, feed.clinicId),
        ])
        return { ...read, ...time }
      },
      'read',
    )

  const tell = ({ screens }: Watched, event: Encoded): void => {
    for (const screen of screens) if (screen.audience === 'clinical') screen.send(event.bytes)
  }

  const audiencesOf = ({ screens }: Watched): Set<JudgedAudience> =>
    new Set([...screens].flatMap(({ audience }) => (audience === 'clinical' ? [] : [audience])))

  const tellJudged = (feed: Feed, watched: Watched): void => {
    for (const audience of audiencesOf(watched)) tellAudience(feed, watched, audience)
  }

  const tellAudience = (feed: Feed, watched: Watched, audience: JudgedAudience): void => {
    const event = judgeAnew(watched.held, audience, now(feed))
    if (!event) return
    for (const screen of watched.screens) if (screen.audience === audience) screen.send(event.bytes)
  }

  /** The window, held at a revision not older than the call. */
  const watch = async (feed: Feed, window: Window): Promise<Watched> => {
    const key = makeWindow(window)
    const known = feed.windows.get(key)
    if (known) {
      known.usedAt = keeper.wall()
      return known
    }
    const fresh = await readFresh(feed, window)
    if (feed.windows.size === 0) {
      feed.revision = fresh.revision
      feed.offset = fresh.offset
    }
    const held = holdWindow(window, fresh)
    const watched: Watched = { held, screens: new Set(), usedAt: keeper.wall(), short: null }
    if (window.kind === 'day') watched.short = await followShort(shortDoors(feed, watched))
    feed.windows.set(key, watched)
    return watched
  }

  const current = async (clinicId: ClinicId, window: Window): Promise<{ feed: Feed; watched: Watched }> => {
    const feed = feedOf(clinicId)
    const isHeld = feed.windows.has(makeWindow(window))
    if (isHeld) await catchUp(feed)
    return { feed, watched: await inTurn(feed, () => watch(feed, window)) }
  }

  const follow = (feed: Feed): void => {
    catchUp(feed).catch((error: unknown) => {
      if (closed) return
      log.error({ err: error, clinicId: feed.clinicId }, 'the live stream could not read the journal')
      setTimeout(() => follow(feed), RETRY_MS).unref()
    })
  }

  await keeper.database.listen(
    (payload) => {
      const clinicId = parseId<ClinicId>(payload.split(':')[0] ?? '')
      const feed = clinicId && feeds.get(clinicId)
      if (feed) follow(feed)
    },
    () => {
      for (const feed of feeds.values()) follow(feed)
    },
  )

  const everyScreen = (): { watched: Watched; screen: Screen }[] =>
    [...feeds.values()].flatMap((feed) =>
      [...feed.windows.values()].flatMap((watched) =>
        [...watched.screens].map((screen) => ({ watched, screen })),
      ),
    )

  const part = ({ watched, screen }: { watched: Watched; screen: Screen }): void => {
    if (watched.screens.delete(screen)) screen.end()
  }

  const beat = setInterval(() => {
    for (const each of everyScreen()) {
      each.screen.send(BEAT)
      each.screen.isSignedIn().then(
        (stands) => {
          if (!stands) part(each)
        },
        (error: unknown) => log.warn({ err: error }, 'a sign-in could not be looked up'),
      )
    }
  }, heartbeatMs)
  const minute = setInterval(() => {
    for (const feed of feeds.values()) {
      for (const [key, watched] of feed.windows) {
        if (watched.screens.size === 0 && keeper.wall() - watched.usedAt > KEPT_UNUSED_MS)
          feed.windows.delete(key)
        else {
          tellJudged(feed, watched)
          watched.short?.soon()
        }
      }
      if (feed.windows.size === 0) feeds.delete(feed.clinicId)
    }
  }, MINUTE_MS)
  beat.unref()
  minute.unref()

  return {
    snapshot: async (clinicId, window) => {
      const { feed, watched } = await current(clinicId, window)
      const { held, short } = watched
      return {
        revision: held.revision,
        at: now(feed),
        world: held.world,
        short: short?.sets().clinical ?? [],
      }
    },
    judged: async (clinicId, window, audience) => {
      const { feed, watched } = await current(clinicId, window)
      const board = judge(watched.held, audience, now(feed))
      if (board === null) throw new Error('Bug: only a day is judged')
      return {
        revision: watched.held.revision,
        at: now(feed),
        board,
        short: watched.short?.sets()[audience] ?? [],
      }
    },
    join: async (clinicId, { window, since }, screen) => {
      const { feed } = await current(clinicId, window)
      return inTurn(feed, async () => {
        const watched = await watch(feed, window)
        // Those already here are brought level first, so that from now on all are sent the same differences.
        if (screen.audience !== 'clinical') tellAudience(feed, watched, screen.audience)
        watched.screens.add(screen)
        for (const event of firstEvents(watched.held, since, screen.audience)) screen.send(event.bytes)
        if (screen.audience !== 'wall') sendShort(feed, watched, screen)
        return () => watched.screens.delete(screen)
      })
    },
    endSession: (sessionId) => {
      for (const each of everyScreen()) if (each.screen.sessionId === sessionId) part(each)
    },
    screens: () => everyScreen().length,
    close: () => {
      closed = true
      clearInterval(beat)
      clearInterval(minute)
      for (const each of everyScreen()) part(each)
    },
  }
}

function firstEvents(held: HeldWindow, since: number, audience: Audience): Encoded[] {
  if (audience === 'clinical') return missedSince(held, since)
  return [wholeBoard(held, audience) ?? resyncAt(held.revision)]
}

import { createHash, randomBytes, randomUUID } from 'node:crypto'
import { eq } from 'drizzle-orm'
import { asClinic } from '#db/as-clinic.ts'
import type { Database, Tx } from '#db/database.ts'
import { type FeedAct, type FeedKind, feedAddress } from '#db/schema/feeds.ts'
import { type Day, dayOf, type Instant } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import type { ClinicId, MemberId } from '#shared/ids.ts'
import { makeICalendar } from './icalendar.ts'
import { COLUMN, idsOf, readDeparted, readExported, readVersions } from './read.ts'

/** Whose day a feed gives. */
export interface FeedTarget {
  clinicId: ClinicId
  kind: FeedKind
  targetId: string
}

/** A feed as a screen may list it. The secret itself is shown once, when it is made. */
export interface Feed {
  kind: FeedKind
  targetId: string
  detail: boolean
  madeBy: MemberId
  madeAt: Instant
}

const digestOf = (secret: string): string => createHash('sha256').update(secret).digest('hex')

/** Who does it, where, and when by the wall clock. */
export interface FeedBy {
  memberId: MemberId
  station: string
  at: Instant
}

/** A fresh secret for a feed: whatever address it had before leads nowhere from now on. That it was made is kept. */
export async function makeFeed(
  database: Database,
  target: FeedTarget,
  { detail, by }: { detail: boolean; by: FeedBy },
): Promise<string> {
  const secret = randomBytes(24).toString('base64url')
  const { clinicId, kind, targetId } = target
  await asClinic(database, clinicId, async (tx) => {
    await tx.unsafe(
      `insert into feed_address (secret_digest, clinic_id, kind, target_id, detail, made_by, made_at)
        values ($1, $2, $3, $4, $5, $6, $7)
        on conflict (clinic_id, kind, target_id) do update set secret_digest = excluded.secret_digest,
          detail = excluded.detail, made_by = excluded.made_by, made_at = excluded.made_at`,
      [digestOf(secret), clinicId, kind, targetId, detail, by.memberId, by.at],
      { prepare: true },
    )
    await noteFeed(tx, target, { act: 'made', detail, by })
  })
  return secret
}

/** Its address leads nowhere from now on. That it was revoked is kept, where there was one. */
export async function revokeFeed(database: Database, target: FeedTarget, by: FeedBy): Promise<void> {
  const { clinicId, kind, targetId } = target
  await asClinic(database, clinicId, async (tx) => {
    const [gone] = await tx.unsafe<{ detail: boolean }[]>(
      'delete from feed_address where clinic_id = $1 and kind = $2 and target_id = $3 returning detail',
      [clinicId, kind, targetId],
      { prepare: true },
    )
    if (gone) await noteFeed(tx, target, { act: 'revoked', detail: gone.detail, by })
  })
}

interface FeedNote {
  act: FeedAct
  detail: boolean
  by: FeedBy
}

async function noteFeed(
  tx: Tx,
  { clinicId, kind, targetId }: FeedTarget,
  { act, detail, by }: FeedNote,
): Promise<void> {
  await tx.unsafe(
    `insert into feed_log (clinic_id, id, at, member_id, station, act, kind, target_id, detail)
      values ($1, $2, $3, $4, $5, $6, $7, $8, $9)`,
    [clinicId, randomUUID(), by.at, by.memberId, by.station, act, kind, targetId, detail],
    { prepare: true },
  )
}

/** One line of the record of who gave out which days. */
export interface FeedEntry {
  at: Instant
  memberId: MemberId
  station: string
  act: FeedAct
  kind: FeedKind
  targetId: string
  detail: boolean
}

const ENTRIES_SHOWN = 50

/** The latest first. */
export const readFeedLog = (database: Database, clinicId: ClinicId): Promise<FeedEntry[]> =>
  asClinic(
    database,
    clinicId,
    async (tx) => {
      const rows = await tx.unsafe<FeedEntry[]>(
        `select at::text as at, member_id as "memberId", station, act, kind, target_id as "targetId", detail
          from feed_log where clinic_id = $1 order by feed_log.at desc limit ${ENTRIES_SHOWN}`,
        [clinicId],
        { prepare: true },
      )
      return rows.map((row) => ({ ...row, at: Number(row.at) as Instant }))
    },
    'read',
  )

export async function listFeeds({ db }: Database, clinicId: ClinicId): Promise<Feed[]> {
  const rows = await db.select().from(feedAddress).where(eq(feedAddress.clinicId, clinicId))
  return rows.map(({ kind, targetId, detail, madeBy, madeAt }) => ({
    kind,
    targetId,
    detail,
    madeBy: madeBy as MemberId,
    madeAt,
  }))
}

/** Cancellations, and all else, stay in a feed for so long; what is ahead for so long. Days. */
const BEHIND = 30
const AHEAD = 90

/** The calendar behind a secret, as RFC 5545 text; null where no feed has it, or who it is of has left. */
export async function readFeed(
  { database, wall }: { database: Database; wall: () => number },
  secret: string,
): Promise<string | null> {
  const [feed] = await database.db
    .select()
    .from(feedAddress)
    .where(eq(feedAddress.secretDigest, digestOf(secret)))
  if (!feed) return null
  const clinicId = feed.clinicId as ClinicId
  return asClinic(
    database,
    clinicId,
    async (tx) => {
      const { kind, targetId, detail } = feed
      const first = dayAround(wall(), -BEHIND)
      const last = dayAround(wall(), AHEAD)
      const world = await readExported(tx, clinicId, {
        sql: `${COLUMN[kind]} = $2 and day between $3::date and $4::date`,
        values: [targetId, first, last],
      })
      const name = nameOf(world, { clinicId, kind, targetId })
      if (name === null) return null
      const departed = await readDeparted(tx, clinicId, { kind, targetId, first, last })
      const ids = [...idsOf(world), ...departed.map(({ appointmentId }) => appointmentId)]
      const versionOf = await readVersions(tx, clinicId, ids)
      return makeICalendar(world, { name, detail, versionOf, departed })
    },
    'read',
  )
}

const dayAround = (at: number, days: number): Day =>
  dayOf((at + days * 86_400_000) as Instant, 'UTC' as never)

function nameOf(world: World, { kind, targetId }: FeedTarget): string | null {
  if (kind === 'operatory') return world.operatory.find(({ id }) => id === targetId)?.name ?? null
  const member = world.member.find(({ id }) => id === targetId)
  return member?.active ? member.name : null
}

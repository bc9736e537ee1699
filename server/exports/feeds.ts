import { createHash, randomBytes } from 'node:crypto'
import { and, eq } from 'drizzle-orm'
import { asClinic } from '#db/as-clinic.ts'
import type { Database } from '#db/database.ts'
import { type FeedKind, feedAddress } from '#db/schema/feeds.ts'
import { type Day, dayOf, type Instant } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import type { ClinicId, MemberId } from '#shared/ids.ts'
import { makeICalendar } from './icalendar.ts'
import { readExported, readVersions } from './read.ts'

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
const isFeedOf = ({ clinicId, kind, targetId }: FeedTarget) =>
  and(eq(feedAddress.clinicId, clinicId), eq(feedAddress.kind, kind), eq(feedAddress.targetId, targetId))

/** A fresh secret for a feed: whatever address it had before leads nowhere from now on. */
export async function makeFeed(
  { db }: Database,
  target: FeedTarget,
  made: { detail: boolean; by: MemberId; at: Instant },
): Promise<string> {
  const secret = randomBytes(24).toString('base64url')
  const row = { secretDigest: digestOf(secret), detail: made.detail, madeBy: made.by, madeAt: made.at }
  await db
    .insert(feedAddress)
    .values({ ...target, ...row })
    .onConflictDoUpdate({
      target: [feedAddress.clinicId, feedAddress.kind, feedAddress.targetId],
      set: row,
    })
  return secret
}

export async function revokeFeed({ db }: Database, target: FeedTarget): Promise<void> {
  await db.delete(feedAddress).where(isFeedOf(target))
}

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

const COLUMN: Record<FeedKind, string> = { operatory: 'operatory_id', dentist: 'dentist_id' }

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
      const [first, last] = [-BEHIND, AHEAD].map((days) => dayAround(wall(), days))
      const world = await readExported(tx, clinicId, {
        sql: `${COLUMN[feed.kind]} = $2 and day between $3::date and $4::date`,
        values: [feed.targetId, first ?? '', last ?? ''],
      })
      const name = nameOf(world, { clinicId, kind: feed.kind, targetId: feed.targetId })
      if (name === null) return null
      const versionOf = await readVersions(tx, clinicId, world)
      return makeICalendar(world, { name, detail: feed.detail, versionOf })
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

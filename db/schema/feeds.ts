import { bigint, boolean, pgTable, primaryKey, text, uniqueIndex, uuid } from 'drizzle-orm/pg-core'
import type { Instant } from '#shared/base/moment.ts'

export const FEED_KINDS = ['operatory', 'dentist'] as const
export type FeedKind = (typeof FEED_KINDS)[number]

/**
 * Secret addresses under which a calendar reads the day of one operatory or dentist. Undistributed, as the sign-in
 * tables are: who asks names no clinic, only the secret, of which the digest alone is kept.
 */
export const feedAddress = pgTable(
  'feed_address',
  {
    /** SHA-256 of the secret. */
    secretDigest: text('secret_digest').primaryKey(),
    clinicId: uuid('clinic_id').notNull(),
    kind: text('kind', { enum: FEED_KINDS }).notNull(),
    /** The operatory or the member. */
    targetId: uuid('target_id').notNull(),
    /** Whether names and the booking's words are in it. */
    detail: boolean('detail').notNull(),
    madeBy: uuid('made_by').notNull(),
    /** Wall clock. */
    madeAt: bigint('made_at', { mode: 'number' }).$type<Instant>().notNull(),
  },
  (table) => [uniqueIndex('feed_address_target').on(table.clinicId, table.kind, table.targetId)],
)

export const FEED_ACTS = ['made', 'revoked'] as const
export type FeedAct = (typeof FEED_ACTS)[number]

/** Who gave out which days, and who took them back. Rows are only ever added. */
export const feedLog = pgTable(
  'feed_log',
  {
    clinicId: uuid('clinic_id').notNull(),
    id: uuid().notNull(),
    /** Wall clock. */
    at: bigint({ mode: 'number' }).$type<Instant>().notNull(),
    memberId: uuid('member_id').notNull(),
    station: text().notNull(),
    act: text({ enum: FEED_ACTS }).notNull(),
    kind: text({ enum: FEED_KINDS }).notNull(),
    targetId: uuid('target_id').notNull(),
    detail: boolean().notNull(),
  },
  (table) => [primaryKey({ columns: [table.clinicId, table.id] })],
)

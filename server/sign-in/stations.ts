import { randomBytes, randomUUID } from 'node:crypto'
import { and, eq, isNotNull } from 'drizzle-orm'
import type { PostgresJsDatabase } from 'drizzle-orm/postgres-js'
import { membership, session } from '#db/schema/accounts.ts'
import type { ClinicId, MemberId } from '#shared/ids.ts'
import { type Accounts, countAttempt, forgetAttempts } from './accounts.ts'

/** How long a device stays a station, in minutes: browsers keep no cookie longer than 400 days. */
export const STATION_MINUTES = 400 * 24 * 60
/** How long a person's digits hold at a station at most; the screen itself locks far sooner. */
export const PERSON_MINUTES = 60

interface Who {
  clinicId: ClinicId
  memberId: MemberId
}
const rowOf = ({ clinicId, memberId }: Who) =>
  and(eq(membership.clinicId, clinicId), eq(membership.memberId, memberId))

/** Opens a sign-in at a station and gives its token; the library's own are for passwords. */
export async function openSignIn(
  db: PostgresJsDatabase,
  of: { accountId: string; stationId: MemberId; minutes: number },
): Promise<string> {
  const token = randomBytes(24).toString('base64url')
  await db.insert(session).values({
    id: randomUUID(),
    token,
    userId: of.accountId,
    stationId: of.stationId,
    expiresAt: new Date(Date.now() + of.minutes * 60_000),
  })
  return token
}

/** Gives a member the digits by which they take over a station; kept as a hash by the library's own hasher. */
export async function setPin(
  accounts: Accounts,
  db: PostgresJsDatabase,
  { pin, ...who }: Who & { pin: string },
): Promise<void> {
  const { password } = await accounts.$context
  await db
    .update(membership)
    .set({ pin: await password.hash(pin) })
    .where(rowOf(who))
}

/** Members of a clinic who have digits. */
export async function listPinned(db: PostgresJsDatabase, clinicId: ClinicId): Promise<MemberId[]> {
  const rows = await db
    .select({ memberId: membership.memberId })
    .from(membership)
    .where(and(eq(membership.clinicId, clinicId), isNotNull(membership.pin)))
  return rows.map(({ memberId }) => memberId as MemberId)
}

export type PinAnswer =
  | { kind: 'right'; accountId: string }
  | { kind: 'wrong' }
  | { kind: 'rests'; minutes: number }

/** Whether these are a member's digits. Five wrong ones in a row, at whatever station, rest them for some minutes. */
export async function checkPin(
  accounts: Accounts,
  db: PostgresJsDatabase,
  { pin, ...who }: Who & { pin: string },
): Promise<PinAnswer> {
  const attempts = `pin ${who.clinicId} ${who.memberId}`
  const minutes = await countAttempt(db, attempts)
  if (minutes > 0) return { kind: 'rests', minutes }
  const [row] = await db
    .select({ accountId: membership.accountId, hash: membership.pin })
    .from(membership)
    .where(rowOf(who))
  const { password } = await accounts.$context
  const isRight = row?.hash != null && (await password.verify({ hash: row.hash, password: pin }))
  if (!isRight || !row) return { kind: 'wrong' }
  await forgetAttempts(db, attempts)
  return { kind: 'right', accountId: row.accountId }
}

import { and, eq, gt } from 'drizzle-orm'
import type { PostgresJsDatabase } from 'drizzle-orm/postgres-js'
import { account, membership, session } from '#db/schema/accounts.ts'
import type { ClinicId, MemberId } from '#shared/ids.ts'

const COOKIE = /(?:^|;\s*)(?:__Secure-)?weirboard\.session_token=([^;]+)/
const STATION = /(?:^|;\s*)weirboard\.station=([A-Za-z0-9 _.-]{1,40})/

/** A live sign-in as the tables know it; the roles are a fact of the clinic and are read there. */
export interface SignIn {
  accountId: string
  sessionId: string
  email: string
  clinicId: ClinicId
  memberId: MemberId
}

/** The session token of a cookie header: a 32-character secret before the library's own signature. */
export function tokenOf(cookie: string | undefined): string | null {
  const value = COOKIE.exec(cookie ?? '')?.[1]
  return value === undefined ? null : (decodeURIComponent(value).split('.')[0] ?? null)
}

/** The name a device gave itself, shown beside what was done from it. */
export const stationOf = (cookie: string | undefined): string =>
  STATION.exec(cookie ?? '')?.[1] ?? 'unnamed screen'

/** Whose sign-in this token is; null when there is none, or it has ended. One statement. */
export async function readSignIn(db: PostgresJsDatabase, token: string | null): Promise<SignIn | null> {
  if (token === null) return null
  const [found] = await db
    .select({
      accountId: account.id,
      sessionId: session.id,
      email: account.email,
      clinicId: membership.clinicId,
      memberId: membership.memberId,
    })
    .from(session)
    .innerJoin(account, eq(account.id, session.userId))
    .innerJoin(membership, eq(membership.accountId, account.id))
    .where(and(eq(session.token, token), gt(session.expiresAt, new Date())))
    .limit(1)
  return found
    ? { ...found, clinicId: found.clinicId as ClinicId, memberId: found.memberId as MemberId }
    : null
}

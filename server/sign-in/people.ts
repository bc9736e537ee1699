import { and, eq } from 'drizzle-orm'
import type { PostgresJsDatabase } from 'drizzle-orm/postgres-js'
import { account, credential, membership, session } from '#db/schema/accounts.ts'
import type { ClinicId, MemberId } from '#shared/ids.ts'
import type { Accounts } from './accounts.ts'

/** Who of a clinic may sign in, and under which name. */
export interface AccountOf {
  memberId: MemberId
  email: string
}

export async function listAccounts(db: PostgresJsDatabase, clinicId: ClinicId): Promise<AccountOf[]> {
  const rows = await db
    .select({ memberId: membership.memberId, email: account.email })
    .from(membership)
    .innerJoin(account, eq(account.id, membership.accountId))
    .where(eq(membership.clinicId, clinicId))
  return rows.map(({ memberId, email }) => ({ memberId: memberId as MemberId, email }))
}

export async function isEmailTaken(db: PostgresJsDatabase, email: string): Promise<boolean> {
  const found = await db
    .select({ id: account.id })
    .from(account)
    .where(eq(account.email, email.toLowerCase()))
  return found.length > 0
}

/** The account of a member of a clinic, or null where they cannot sign in. */
export async function findAccountId(
  db: PostgresJsDatabase,
  { clinicId, memberId }: { clinicId: ClinicId; memberId: MemberId },
): Promise<string | null> {
  const [found] = await db
    .select({ id: membership.accountId })
    .from(membership)
    .where(and(eq(membership.clinicId, clinicId), eq(membership.memberId, memberId)))
  return found?.id ?? null
}

export async function setPassword(accounts: Accounts, accountId: string, password: string): Promise<void> {
  const context = await accounts.$context
  await context.internalAdapter.updatePassword(accountId, await context.password.hash(password))
}

/** Whether this is the password of an account; an account without one has none that fits. */
export async function isPassword(
  accounts: Accounts,
  db: PostgresJsDatabase,
  { accountId, password }: { accountId: string; password: string },
): Promise<boolean> {
  const rows = await db
    .select({ hash: credential.password })
    .from(credential)
    .where(and(eq(credential.userId, accountId), eq(credential.providerId, 'credential')))
  const hash = rows[0]?.hash ?? null
  const context = await accounts.$context
  return hash !== null && context.password.verify({ hash, password })
}

export async function endSignIn(db: PostgresJsDatabase, sessionId: string): Promise<void> {
  await db.delete(session).where(eq(session.id, sessionId))
}

/** Ends every sign-in of an account; their ids, so that open streams can be cut. */
export async function endSignIns(db: PostgresJsDatabase, accountId: string): Promise<string[]> {
  const ended = await db.delete(session).where(eq(session.userId, accountId)).returning({ id: session.id })
  return ended.map(({ id }) => id)
}

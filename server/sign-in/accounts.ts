import { betterAuth } from 'better-auth'
import { drizzleAdapter } from 'better-auth/adapters/drizzle'
import { eq, sql } from 'drizzle-orm'
import type { PostgresJsDatabase } from 'drizzle-orm/postgres-js'
import { account, credential, membership, session, signInAttempt, verification } from '#db/schema/accounts.ts'
import type { ClinicId, MemberId } from '#shared/ids.ts'

/** How long a sign-in lasts, in seconds: one working day. */
const SESSION_SECONDS = 12 * 60 * 60
const FAILURES_BEFORE_LOCK = 5
const LOCK_MINUTES = 5

/** Accounts, passwords and sessions, kept by the library; nobody signs themselves up. */
export function openAccounts(db: PostgresJsDatabase, options: { secret: string; address: string }) {
  return betterAuth({
    database: drizzleAdapter(db, {
      provider: 'pg',
      schema: { user: account, session, account: credential, verification },
    }),
    secret: options.secret,
    baseURL: options.address,
    basePath: '/api/auth',
    emailAndPassword: { enabled: true, disableSignUp: true, minPasswordLength: 8 },
    session: { expiresIn: SESSION_SECONDS, updateAge: SESSION_SECONDS, cookieCache: { enabled: false } },
    // The process itself refuses a foreign Origin before anything is parsed, and counts failures by account.
    advanced: {
      cookiePrefix: 'weirboard',
      disableOriginCheck: true,
      useSecureCookies: options.address.startsWith('https:'),
    },
    rateLimit: { enabled: false },
    telemetry: { enabled: false },
  })
}
export type Accounts = ReturnType<typeof openAccounts>

/**
 * Gives a member of a clinic an account to sign in with. The e-mail is only a name; nothing is ever sent to it.
 * Without a password nobody signs in by name: a shared station. The account's id.
 */
export async function addAccount(
  accounts: Accounts,
  db: PostgresJsDatabase,
  person: { name: string; email: string; password: string | null; clinicId: ClinicId; memberId: MemberId },
): Promise<string> {
  const context = await accounts.$context
  const user = await context.internalAdapter.createUser(
    { name: person.name, email: person.email.toLowerCase(), emailVerified: true },
    { method: 'admin' },
  )
  if (person.password !== null) {
    await context.internalAdapter.linkAccount({
      userId: user.id,
      accountId: user.id,
      providerId: 'credential',
      password: await context.password.hash(person.password),
    })
  }
  await db
    .insert(membership)
    .values({ accountId: user.id, clinicId: person.clinicId, memberId: person.memberId })
  return user.id
}

/**
 * Counts a try at a name before it is looked at, so that many at once are not many guesses. Minutes to wait where it
 * rests, five failures in a row before that; 0: this try may be looked at.
 */
export async function countAttempt(db: PostgresJsDatabase, of: string): Promise<number> {
  const name = of.toLowerCase()
  const lockedUntil = sql`case when ${signInAttempt.failures} + 1 >= ${FAILURES_BEFORE_LOCK}
    then now() + make_interval(mins => ${LOCK_MINUTES}) else null end`
  const counted = await db
    .insert(signInAttempt)
    .values({ email: name, failures: 1, lockedUntil: null })
    .onConflictDoUpdate({
      target: signInAttempt.email,
      set: { failures: sql`${signInAttempt.failures} + 1`, lockedUntil },
      setWhere: sql`${signInAttempt.lockedUntil} is null or ${signInAttempt.lockedUntil} <= now()`,
    })
    .returning({ failures: signInAttempt.failures })
  if (counted.length > 0) return 0
  const [attempt] = await db.select().from(signInAttempt).where(eq(signInAttempt.email, name))
  const until = attempt?.lockedUntil?.getTime() ?? 0
  return Math.max(1, Math.ceil((until - Date.now()) / 60_000))
}

/** After a good one nothing is held against a name. */
export async function forgetAttempts(db: PostgresJsDatabase, of: string): Promise<void> {
  await db.delete(signInAttempt).where(eq(signInAttempt.email, of.toLowerCase()))
}

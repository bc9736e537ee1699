import pino, { type Logger } from 'pino'
import type { Database } from '#db/database.ts'
import { openDatabase } from '#db/open.ts'
import { membership } from '#db/schema/accounts.ts'
import type { ClinicId } from '#shared/ids.ts'
import { perform } from './commands/perform.ts'
import type { Asked, Performed } from './commands/performed.ts'
import type { Environment } from './environment.ts'
import { type FoundForm, openDoor } from './found.ts'
import type { Trouble } from './http/reply.ts'
import { type Hub, openHub } from './realtime/hub.ts'
import { type Accounts, openAccounts } from './sign-in/accounts.ts'
import { readClinic } from './sign-in/read-people.ts'
import { openSessions } from './sign-in/read-session.ts'
import { keepSecret } from './sign-in/secret.ts'
import type { Session } from './sign-in/session.ts'
import { type Caller, makeCaller } from './trpc/router.ts'

/** Everything one process keeps open, opened once and closed in order. */
export interface House {
  environment: Environment
  database: Database
  accounts: Accounts
  hub: Hub
  log: Logger
  /** The wall clock. */
  wall: () => number
  perform: (asked: Asked) => Promise<Performed>
  /** Who asks, by the cookies of their request; null when nobody is signed in. */
  readSession: (cookie: string | undefined) => Promise<Session | null>
  /** Whether a sign-in still stands. */
  isSignedIn: (session: Session) => Promise<boolean>
  /** The queries and commands in this process, in the name of whoever sent these headers. */
  callerFor: (headers: Headers) => Promise<Caller>
  isInvented: (clinicId: ClinicId) => Promise<boolean>
  /** The clinics that have people who may sign in. */
  clinics: () => Promise<ClinicId[]>
  /** Founds a real clinic by its one-time code; what keeps it from being founded, or null. */
  found: (form: FoundForm) => Promise<Trouble | null>
  /** Says where it is served and who may sign in. */
  greet: (address: string) => Promise<void>
  close: () => Promise<void>
}

export interface HouseOptions {
  wall?: () => number
  log?: Logger
}

/** Opens the database, brings it up to date, and stands ready; the first clinic is made where there is none. */
export async function openHouse(environment: Environment, options: HouseOptions = {}): Promise<House> {
  const wall = options.wall ?? Date.now
  const log = options.log ?? pino({ name: 'weirboard' })
  const database = await openDatabase(
    environment.DATABASE_URL ? { url: environment.DATABASE_URL } : { folder: environment.DATA_FOLDER },
  )
  try {
    const keeper = { database, wall }
    const hub = await openHub({ ...keeper, log })
    const accounts = openAccounts(database.db, {
      secret: keepSecret(environment),
      address: environment.PUBLIC_ADDRESS ?? `http://${environment.HOST}:${environment.PORT}`,
    })
    const sessions = openSessions(database)
    const clinics = () => listClinics(database)
    const ask = (asked: Asked) => perform(keeper, asked)
    const door = openDoor({ database, accounts, perform: ask, clinics, environment, wall })
    await door.firstRun()
    const house: House = {
      environment,
      database,
      accounts,
      hub,
      log,
      wall,
      perform: ask,
      readSession: sessions.read,
      isSignedIn: sessions.stands,
      callerFor: async (headers) => {
        const cookie = headers.get('cookie') ?? undefined
        return makeCaller({ house, session: await sessions.read(cookie) })
      },
      isInvented: async (clinicId) => (await readClinic(database, clinicId))?.invented ?? false,
      clinics,
      found: door.found,
      greet: door.greet,
      close: async () => {
        hub.close()
        await database.close()
      },
    }
    return house
  } catch (error) {
    await database.close()
    throw error
  }
}

async function listClinics(database: Database): Promise<ClinicId[]> {
  const rows = await database.db
    .selectDistinct({ clinicId: membership.clinicId })
    .from(membership)
    .orderBy(membership.clinicId)
  return rows.map((row) => row.clinicId as ClinicId)
}

const KEPT = Symbol.for('weirboard.house')
type Keeping = { [KEPT]?: House }

/** Puts the house where pages find it: they are another module graph of the same process. */
export function keepHouse(house: House): void {
  ;(globalThis as Keeping)[KEPT] = house
}

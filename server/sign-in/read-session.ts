import { readTogether } from '#db/as-clinic.ts'
import type { Database } from '#db/database.ts'
import { assert } from '#shared/base/assert.ts'
import type { ClinicId, MemberId } from '#shared/ids.ts'
import { audienceOf, type Role, rolesAtStation } from '#shared/people/role.ts'
import type { Session } from './session.ts'

/** The token of a cookie: letters before the library's own signature. Nothing else may stand in a statement. */
const COOKIE = /(?:^|;\s*)(?:__Secure-)?weirboard\.session_token=([A-Za-z0-9_-]{1,128})(?=[.;%]|$)/
const STATION_TOKEN = /(?:^|;\s*)weirboard\.station_token=([A-Za-z0-9_-]{20,64})/
const STATION = /(?:^|;\s*)weirboard\.station=([A-Za-z0-9 _.-]{1,40})/
const PLAIN = /^[A-Za-z0-9_-]{1,128}$/

/** A live sign-in as the tables know it; the roles are a fact of the clinic and are read there. */
export interface SignIn {
  accountId: string
  sessionId: string
  email: string
  clinicId: ClinicId
  memberId: MemberId
  /** The shared station it was opened at; null: a screen of one's own. */
  stationId: MemberId | null
}
type Place = Pick<SignIn, 'clinicId' | 'memberId' | 'stationId'>
/** `station`: the name of the registered station, while it is one. */
type Standing = { roles: Role[]; active: boolean; station: string | null }

/** The session token of a cookie header; null where there is none. */
export const tokenOf = (cookie: string | undefined): string | null => COOKIE.exec(cookie ?? '')?.[1] ?? null

/** The token by which a registered station is known, whoever stands at it. */
export const stationTokenOf = (cookie: string | undefined): string | null =>
  STATION_TOKEN.exec(cookie ?? '')?.[1] ?? null

/** The name a device gave itself, shown beside what was done from it. */
export const stationOf = (cookie: string | undefined): string =>
  STATION.exec(cookie ?? '')?.[1] ?? 'unnamed screen'

const isLive = (): string => `expires_at > '${new Date().toISOString()}'`

const signInOf = (token: string): string =>
  `select a.id as "accountId", s.id as "sessionId", a.email, m.clinic_id as "clinicId", m.member_id as "memberId",
    s.station_id as "stationId"
    from session s join account a on a.id = s.user_id join membership m on m.account_id = a.id
    where s.token = '${token}' and s.${isLive()} order by m.clinic_id limit 1`

const standingOf = ({ clinicId, memberId, stationId }: Place): string =>
  `select roles, active, ${stationId === null ? 'null' : `(${stationNamed(clinicId, stationId)})`} as station
    from member where clinic_id = '${clinicId}' and id = '${memberId}'`
const stationNamed = (clinicId: ClinicId, stationId: MemberId): string =>
  `select name from member where clinic_id = '${clinicId}' and id = '${stationId}' and active`

/** Whoever was signed in at a station is not, once it is one no more. */
const isHere = (standing: Standing | undefined, { stationId }: Place): standing is Standing =>
  standing?.active === true && (stationId === null || standing.station !== null)

/** Whose sign-in this token is; null when there is none, or it has ended. One statement. */
export async function readSignIn(database: Database, token: string | null): Promise<SignIn | null> {
  if (token === null) return null
  const [found] = await database.sql.unsafe<SignIn[]>(signInOf(token))
  return found ? { ...found } : null
}

/** So many sign-ins are remembered; far more than a clinic has screens. */
const REMEMBERED = 4096

/** Who asks. Everything is read anew each time, for a sign-in may have ended or a role been taken a moment ago. */
export interface Sessions {
  /** By the cookies of a request: the person, at a station where nobody is the station itself; null without either. */
  read: (cookie: string | undefined) => Promise<Session | null>
  /** Whether a sign-in still stands: not revoked, not run out, and the person still works here. */
  stands: (session: Session) => Promise<boolean>
}

export function openSessions(database: Database): Sessions {
  // Only where a token was last found, so that all of it is asked for in one round trip; never the answer itself.
  const places = new Map<string, Place>()
  const remember = (token: string, { clinicId, memberId, stationId }: Place): void => {
    const [oldest] = places.keys()
    if (places.size >= REMEMBERED && oldest !== undefined) places.delete(oldest)
    places.set(token, { clinicId, memberId, stationId })
  }

  const find = async (token: string): Promise<(SignIn & Standing) | null> => {
    const place = places.get(token) ?? (await readSignIn(database, token))
    if (!place) return null
    const [[signIn], [standing]] = await readTogether<[SignIn, Standing]>(database, place.clinicId, [
      signInOf(token),
      standingOf(place),
    ])
    places.delete(token)
    if (!signIn) return null
    const moved = signIn.clinicId !== place.clinicId || signIn.memberId !== place.memberId
    if (moved) return find(token)
    remember(token, place)
    return isHere(standing, place) ? { ...signIn, ...standing } : null
  }

  const findBy = async (token: string | null) => (token === null ? null : find(token))

  return {
    read: async (cookie) => {
      const found = (await findBy(tokenOf(cookie))) ?? (await findBy(stationTokenOf(cookie)))
      if (!found) return null
      const { accountId, sessionId, clinicId, memberId, stationId } = found
      const roles = stationId === null ? found.roles : rolesAtStation(found.roles)
      return {
        accountId,
        sessionId,
        clinicId,
        memberId,
        roles,
        audience: audienceOf(roles),
        station: found.station ?? stationOf(cookie),
        stationId,
      }
    },
    stands: async (session) => {
      assert(PLAIN.test(session.sessionId), 'a session’s id is letters and digits')
      const [[live], [standing]] = await readTogether<[{ id: string }, Standing]>(
        database,
        session.clinicId,
        [`select id from session where id = '${session.sessionId}' and ${isLive()}`, standingOf(session)],
      )
      return live !== undefined && isHere(standing, session)
    },
  }
}

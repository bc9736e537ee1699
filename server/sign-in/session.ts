import type { ClinicId, MemberId } from '#shared/ids.ts'
import type { Audience, Role } from '#shared/people/role.ts'

/** Who is asking: a signed-in account as one member of one clinic. */
export interface Session {
  accountId: string
  /** The session row's id, by which a sign-in is revoked. */
  sessionId: string
  clinicId: ClinicId
  memberId: MemberId
  roles: Role[]
  audience: Audience
  /** The device: a registered station's name, else as it named itself. */
  station: string
  /** The shared station this is, or was opened at; null: a screen of one's own. */
  stationId: MemberId | null
}

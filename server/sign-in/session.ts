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
  /** The device, as it named itself. */
  station: string
}

import { asClinic } from '#db/as-clinic.ts'
import type { Database } from '#db/database.ts'
import { everywhere, selectFacts } from '#db/select.ts'
import type { ClinicId, MemberId } from '#shared/ids.ts'
import type { Clinic, Member } from '#shared/people/clinic.ts'

export async function readClinic(database: Database, clinicId: ClinicId): Promise<Clinic | null> {
  const [clinic] = await asClinic(
    database,
    clinicId,
    (tx) => selectFacts(tx, clinicId, { name: 'clinic', where: everywhere }),
    'read',
  )
  return clinic ?? null
}

export async function readMember(
  database: Database,
  clinicId: ClinicId,
  memberId: MemberId,
): Promise<Member | null> {
  const [member] = await asClinic(
    database,
    clinicId,
    (tx) => selectFacts(tx, clinicId, { name: 'member', where: { sql: 'id = $2', values: [memberId] } }),
    'read',
  )
  return member ?? null
}

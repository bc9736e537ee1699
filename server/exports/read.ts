import type { Tx } from '#db/database.ts'
import { listOf } from '#db/save.ts'
import { everywhere, selectWanted, type Where } from '#db/select.ts'
import type { Instant } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import type { AppointmentId, ClinicId } from '#shared/ids.ts'
import type { FeedOptions } from './icalendar.ts'

/** Appointments and all that an export says of them, at one moment. `where` is a condition on `appointment`. */
export async function readExported(tx: Tx, clinicId: ClinicId, where: Where): Promise<World> {
  const of = `select id from appointment where clinic_id = $1 and (${where.sql})`
  const patients = `select patient_id from appointment where clinic_id = $1 and (${where.sql})`
  const { values } = where
  return selectWanted(tx, clinicId, {
    clinic: everywhere,
    site: everywhere,
    operatory: everywhere,
    member: everywhere,
    appointment: where,
    work: { sql: `appointment_id in (${of})`, values },
    patient: { sql: `id in (${patients})`, values },
    allergyRecord: { sql: `patient_id in (${patients})`, values },
  })
}

/**
 * How often each appointment has been touched, and when last: rows of the journal are never taken away, so a sequence
 * made of their count can only grow.
 */
export async function readVersions(
  tx: Tx,
  clinicId: ClinicId,
  { appointment }: World,
): Promise<FeedOptions['versionOf']> {
  const rows = await tx.unsafe<{ id: AppointmentId; sequence: number; at: Instant }[]>(
    `select t.appointment_id as id, count(*)::int as sequence, max(j.recorded_at) as at
      from journal_appointment t join journal j on j.clinic_id = t.clinic_id and j.revision = t.revision
      where t.clinic_id = $1 and t.appointment_id = any($2::uuid[]) group by 1`,
    [clinicId, listOf(appointment.map(({ id }) => id))],
    { prepare: true },
  )
  const known = new Map(rows.map(({ id, sequence, at }) => [id, { sequence, at: Number(at) as Instant }]))
  return (id) => known.get(id) ?? { sequence: 0, at: 0 as Instant }
}

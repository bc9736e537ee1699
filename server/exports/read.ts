import type { Tx } from '#db/database.ts'
import { listOf } from '#db/save.ts'
import type { FeedKind } from '#db/schema/feeds.ts'
import { everywhere, selectWanted, type Where } from '#db/select.ts'
import type { Day, Instant } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import type { AppointmentId, ClinicId } from '#shared/ids.ts'
import type { Departure } from '../commands/departures.ts'
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

export const idsOf = ({ appointment }: World): AppointmentId[] => appointment.map(({ id }) => id)

/**
 * How often each appointment has been touched, and when last: rows of the journal are never taken away, so a sequence
 * made of their count can only grow.
 */
export async function readVersions(
  tx: Tx,
  clinicId: ClinicId,
  ids: readonly AppointmentId[],
): Promise<FeedOptions['versionOf']> {
  const rows = await tx.unsafe<{ id: AppointmentId; sequence: number; at: Instant }[]>(
    `select t.appointment_id as id, count(*)::int as sequence, max(j.recorded_at) as at
      from journal_appointment t join journal j on j.clinic_id = t.clinic_id and j.revision = t.revision
      where t.clinic_id = $1 and t.appointment_id = any($2::uuid[]) group by 1`,
    [clinicId, listOf(ids)],
    { prepare: true },
  )
  const known = new Map(rows.map(({ id, sequence, at }) => [id, { sequence, at: Number(at) as Instant }]))
  return (id) => known.get(id) ?? { sequence: 0, at: 0 as Instant }
}

/** Appointments that stood with an operatory or a dentist on these days and have gone from there, each as it last stood. */
export async function readDeparted(
  tx: Tx,
  clinicId: ClinicId,
  { kind, targetId, first, last }: { kind: FeedKind; targetId: string; first: Day; last: Day },
): Promise<Departure[]> {
  const rows = await tx.unsafe<Departure[]>(
    `select distinct on (d.appointment_id) d.target_id as "targetId", d.appointment_id as "appointmentId",
        d.day::text as day, d.start::text as start, d.minutes
      from journal_departure d
      where d.clinic_id = $1 and d.target_id = $2 and d.day between $3::date and $4::date
        and not exists (select from appointment a
          where a.clinic_id = d.clinic_id and a.id = d.appointment_id and a.${COLUMN[kind]} = d.target_id)
      order by d.appointment_id, d.revision desc`,
    [clinicId, targetId, first, last],
    { prepare: true },
  )
  return rows.map((row) => ({ ...row, start: Number(row.start) as Instant }))
}

/** Which column of an appointment says whose it is. */
export const COLUMN: Record<FeedKind, string> = { operatory: 'operatory_id', dentist: 'dentist_id' }

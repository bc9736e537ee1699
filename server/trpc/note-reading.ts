import { randomUUID } from 'node:crypto'
import { asClinic } from '#db/as-clinic.ts'
import type { AppointmentId } from '#shared/ids.ts'
import type { House } from '../house.ts'
import type { Session } from '../sign-in/session.ts'

/** Keeps that someone read a clinical page; null where it is of no single appointment. */
export async function noteReading(
  house: House,
  session: Session,
  { page, appointmentId }: { page: string; appointmentId: AppointmentId | null },
): Promise<void> {
  await asClinic(house.database, session.clinicId, (tx) =>
    tx.unsafe(
      `insert into read_log (clinic_id, id, at, member_id, station, page, appointment_id)
        values ($1, $2, $3, $4, $5, $6, $7)`,
      [session.clinicId, randomUUID(), house.wall(), session.memberId, session.station, page, appointmentId],
      { prepare: true },
    ),
  )
}

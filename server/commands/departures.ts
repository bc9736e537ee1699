import type { Tx } from '#db/database.ts'
import { listOf } from '#db/save.ts'
import type { Day, Instant, Minutes } from '#shared/base/moment.ts'
import type { Change } from '#shared/change.ts'
import type { AppointmentId, ClinicId } from '#shared/ids.ts'

/** Where and when an appointment stood that went away from an operatory or a dentist. */
export interface Departure {
  /** The operatory or the member. */
  targetId: string
  appointmentId: AppointmentId
  day: Day
  start: Instant
  minutes: Minutes
}

/** What a change takes from each operatory and dentist: moved to another, to none, or removed. */
export function departuresOf(change: Change, before: Change): Departure[] {
  const now = new Map((change.put.appointment ?? []).map((each) => [each.id, each]))
  return (before.put.appointment ?? []).flatMap((stood) => {
    const { id: appointmentId, day, start, minutes } = stood
    const next = now.get(appointmentId)
    const left = (['operatoryId', 'dentistId'] as const).flatMap((key) => {
      const target = stood[key]
      return target === null || target === next?.[key] ? [] : [target]
    })
    return left.map((targetId) => ({ targetId, appointmentId, day, start, minutes }))
  })
}

/** Keeps what feeds owe from now on. */
export async function saveDepartures(
  tx: Tx,
  { clinicId, revision }: { clinicId: ClinicId; revision: number },
  departures: readonly Departure[],
): Promise<void> {
  if (departures.length === 0) return
  await tx.unsafe(
    `insert into journal_departure (clinic_id, revision, target_id, appointment_id, day, start, minutes)
      select $1, $2, * from unnest($3::uuid[], $4::uuid[], $5::date[], $6::bigint[], $7::int[])`,
    [
      clinicId,
      revision,
      listOf(departures.map(({ targetId }) => targetId)),
      listOf(departures.map(({ appointmentId }) => appointmentId)),
      listOf(departures.map(({ day }) => day)),
      listOf(departures.map(({ start }) => String(start))),
      listOf(departures.map(({ minutes }) => String(minutes))),
    ],
    { prepare: true },
  )
}

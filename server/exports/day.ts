import { Temporal } from 'temporal-polyfill'
import type { Instant, Zone } from '#shared/base/moment.ts'
import type { Facts, World } from '#shared/facts.ts'
import { type ExportForm, markOf } from '#shared/schedule/exported-mark.ts'

/** One appointment with what an export says of it. */
export interface ExportedAppointment {
  appointment: Facts['appointment']
  patient: Facts['patient'] | undefined
  operatory: Facts['operatory'] | undefined
  dentist: Facts['member'] | undefined
  work: Facts['work'][]
}

/** A world's appointments in the order of the day, each with its own. */
export function exportedOf(world: World): ExportedAppointment[] {
  const byId = <T extends { id: string }>(facts: T[]) =>
    new Map<string, T>(facts.map((fact) => [fact.id, fact]))
  const [patients, operatories, members] = [byId(world.patient), byId(world.operatory), byId(world.member)]
  const works = new Map<string, Facts['work'][]>()
  for (const work of world.work)
    works.set(work.appointmentId, [...(works.get(work.appointmentId) ?? []), work])
  return [...world.appointment]
    .sort((one, other) => one.start - other.start || one.id.localeCompare(other.id))
    .map((appointment) => ({
      appointment,
      patient: patients.get(appointment.patientId),
      operatory: operatories.get(appointment.operatoryId ?? ''),
      dentist: members.get(appointment.dentistId ?? ''),
      work: (works.get(appointment.id) ?? []).sort((one, other) => one.position - other.position),
    }))
}

/** The mark of what this form says of it. */
export const markIn = (
  { appointment, patient, operatory, dentist, work }: ExportedAppointment,
  form: ExportForm,
): string =>
  markOf(
    {
      ...appointment,
      operatory: operatory?.name ?? null,
      dentist: dentist?.name ?? null,
      patient: patient ?? null,
      work,
    },
    form,
  )

/** ISO 8601 with the zone's offset: `2026-11-24T09:00:00+00:00`. */
export const isoWithOffset = (at: Instant, zone: Zone): string =>
  Temporal.Instant.fromEpochMilliseconds(at)
    .toZonedDateTimeISO(zone)
    .toString({ timeZoneName: 'never', smallestUnit: 'second' })

export const endOf = ({ start, minutes }: Facts['appointment']): Instant =>
  (start + minutes * 60_000) as Instant

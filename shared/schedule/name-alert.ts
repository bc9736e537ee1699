import type { World } from '../facts.ts'
import { type Coming, type NameAlert, nameAlerts } from '../people/names.ts'
import type { Patient } from '../people/patient.ts'
import { type Appointment, isOver } from './appointment.ts'

type Alerts = Map<string, NameAlert[]>
type SiteDay = Pick<Appointment, 'siteId' | 'day'>
interface Remembered {
  appointments: readonly Appointment[]
  ofDay: Map<string, Alerts>
}
const remembered = new WeakMap<readonly Patient[], Remembered>()

/** Who of one site's day may be taken for whom, by patient id. Made once while patients and appointments stand. */
export function alertsOfDay(world: World, { siteId, day }: SiteDay): Alerts {
  const last = remembered.get(world.patient)
  const known =
    last?.appointments === world.appointment
      ? last
      : { appointments: world.appointment, ofDay: new Map<string, Alerts>() }
  remembered.set(world.patient, known)
  const key = `${siteId}/${day}`
  const found = known.ofDay.get(key) ?? nameAlerts(comingOn(world, { siteId, day }))
  known.ofDay.set(key, found)
  return found
}

/** Whoever comes that day, also those who are already gone home: the alert stays on both all day. */
function comingOn(world: World, { siteId, day }: SiteDay): Coming[] {
  const patients = new Map(world.patient.map((patient) => [patient.id, patient]))
  return world.appointment.flatMap((appointment) => {
    const patient = patients.get(appointment.patientId)
    if (!patient || appointment.siteId !== siteId || appointment.day !== day || isGone(appointment)) return []
    return [{ patient, seenBy: appointment.studentId ?? appointment.dentistId, start: appointment.start }]
  })
}

const isGone = ({ status }: Appointment): boolean => isOver(status) && status !== 'fulfilled'

export const hasNameAlert = (world: World, appointment: Appointment): boolean =>
  alertsOfDay(world, appointment).has(appointment.patientId)

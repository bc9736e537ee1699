import { findFact, type World } from '../facts.ts'
import { type Coming, type NameAlert, nameAlerts } from '../people/names.ts'
import type { Patient } from '../people/patient.ts'
import { type Appointment, isOver } from './appointment.ts'
import { type Likeness, likenessOf } from './identity.ts'

type Alerts = Map<string, NameAlert[]>
type SiteDay = Pick<Appointment, 'siteId' | 'day'>
interface Remembered {
  patients: readonly Patient[]
  appointments: readonly Appointment[]
  coming: readonly Coming[]
  alerts: Alerts
}
/** The last days looked at. What happens to a patient in the day seldom moves a name, a dentist or a start. */
const remembered = new Map<string, Remembered>()
const DAYS_REMEMBERED = 16

/** Who of one site's day may be taken for whom, by patient id. Worked out anew only when someone else comes. */
export function alertsOfDay(world: World, { siteId, day }: SiteDay): Alerts {
  const key = `${siteId}/${day}`
  const last = remembered.get(key)
  if (last?.patients === world.patient && last.appointments === world.appointment) return last.alerts
  const coming = comingOn(world, { siteId, day })
  const alerts = last && isSame(last.coming, coming) ? last.alerts : nameAlerts(coming)
  remembered.delete(key)
  remembered.set(key, { patients: world.patient, appointments: world.appointment, coming, alerts })
  const [oldest] = remembered.keys()
  if (remembered.size > DAYS_REMEMBERED && oldest !== undefined) remembered.delete(oldest)
  return alerts
}

const isSame = (some: readonly Coming[], others: readonly Coming[]): boolean =>
  some.length === others.length &&
  some.every((one, index) => {
    const other = others[index]
    return (
      other !== undefined &&
      one.seenBy === other.seenBy &&
      one.start === other.start &&
      one.patient.id === other.patient.id &&
      one.patient.given === other.patient.given &&
      one.patient.family === other.patient.family &&
      one.patient.born === other.patient.born
    )
  })

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

/** Whether another patient of that day may be taken for this one. */
export const likenessOn = (world: World, { siteId, day, patientId }: Appointment): Likeness =>
  likenessOf(
    findFact(world, 'patient', patientId) ?? null,
    alertsOfDay(world, { siteId, day }).get(patientId) ?? [],
  )

export const hasNameAlert = (world: World, appointment: Appointment): boolean =>
  alertsOfDay(world, appointment).has(appointment.patientId)

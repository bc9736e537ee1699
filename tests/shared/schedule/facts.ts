import { type ClockTime, type Day, instant, type Zone } from '#shared/base/moment.ts'
import type {
  AppointmentId,
  ClinicId,
  MemberId,
  OperatoryId,
  PatientId,
  SiteId,
  VisitId,
} from '#shared/ids.ts'
import type { Appointment, Visit, VisitStage } from '#shared/schedule/appointment.ts'

const clinicId = 'clinic' as ClinicId
/** Noon of a winter day in UTC: minutes in these tests count from here. */
export const NOON = instant(Date.UTC(2026, 10, 24, 12))
export const at = (minutes: number) => instant(NOON + minutes * 60_000)

/** An appointment `from` so many minutes after noon, for so long. */
export const booked = (
  id: string,
  from: number,
  minutes: number,
  more: Partial<Appointment> = {},
): Appointment => ({
  clinicId,
  id: id as AppointmentId,
  siteId: 'site' as SiteId,
  operatoryId: `room of ${id}` as OperatoryId,
  patientId: `patient of ${id}` as PatientId,
  dentistId: `dentist of ${id}` as MemberId,
  studentId: null,
  status: 'booked',
  day: '2026-11-24' as Day,
  startsAt: '12:00' as ClockTime,
  zone: 'UTC' as Zone,
  start: at(from),
  minutes,
  note: '',
  external: null,
  vanished: null,
  formerDentist: null,
  ...more,
})

export const visitAt = (stage: VisitStage, more: Partial<Visit> = {}): Visit => ({
  clinicId,
  id: 'visit' as VisitId,
  appointmentId: 'a' as AppointmentId,
  stage,
  since: NOON,
  steps: [{ stage: 'arrived', at: NOON, by: 'desk' as MemberId }],
  identity: null,
  identityDiffered: null,
  nameAlertSeen: null,
  readBack: null,
  recounted: null,
  timeOut: null,
  consent: null,
  clamp: null,
  counts: null,
  aftercare: null,
  ...more,
})

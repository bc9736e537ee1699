import { isNotNull } from 'drizzle-orm'
import { boolean, index, integer, pgTable, text, uniqueIndex } from 'drizzle-orm/pg-core'
import type {
  AppointmentId,
  IncidentId,
  MemberId,
  OccupancyId,
  OperatoryId,
  PatientId,
  SiteId,
  VisitId,
  WorkId,
} from '#shared/ids.ts'
import { PROCEDURE_KINDS, type Work } from '#shared/procedures/work.ts'
import {
  APPOINTMENT_STATUSES,
  type Appointment,
  type Incident,
  type Occupancy,
  VISIT_STAGES,
  type Visit,
} from '#shared/schedule/appointment.ts'
import type { Tooth } from '#shared/teeth/tooth.ts'
import {
  clockTime,
  day,
  factKey,
  id,
  instantMs,
  json,
  keys,
  kinds,
  livesAs,
  oneOf,
  pointsAt,
  zone,
} from '../columns.ts'
import { member, operatory, site } from './clinic.ts'
import { patient } from './patients.ts'

export const appointment = pgTable(
  'appointment',
  {
    ...keys<AppointmentId>(),
    siteId: id<SiteId>().notNull(),
    operatoryId: id<OperatoryId>(),
    patientId: id<PatientId>().notNull(),
    dentistId: id<MemberId>(),
    studentId: id<MemberId>(),
    status: text({ enum: APPOINTMENT_STATUSES }).notNull(),
    day: day().notNull(),
    startsAt: clockTime().notNull(),
    zone: zone().notNull(),
    start: instantMs().notNull(),
    minutes: integer().notNull(),
    note: text().notNull(),
    external: json<Appointment['external']>(),
    vanished: json<Appointment['vanished']>(),
    formerDentist: json<Appointment['formerDentist']>(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.siteId, () => site),
    pointsAt(table, table.operatoryId, () => operatory),
    pointsAt(table, table.patientId, () => patient),
    pointsAt(table, table.dentistId, () => member),
    pointsAt(table, table.studentId, () => member),
    oneOf('appointment_status', table.status, APPOINTMENT_STATUSES),
    index('appointment_day').on(table.clinicId, table.day, table.siteId),
    index('appointment_patient').on(table.clinicId, table.patientId, table.day),
    index('appointment_operatory').on(table.clinicId, table.operatoryId, table.day),
    index('appointment_student')
      .on(table.clinicId, table.studentId, table.day)
      .where(isNotNull(table.studentId)),
  ],
)

const WORK_KINDS = [...PROCEDURE_KINDS, 'undetermined'] as const
export const work = pgTable(
  'work',
  {
    ...keys<WorkId>(),
    appointmentId: id<AppointmentId>().notNull(),
    position: integer().notNull(),
    text: text().notNull(),
    kind: text({ enum: WORK_KINDS }).notNull(),
    teeth: json<Tooth[]>().notNull(),
    surfaces: json<Work['surfaces']>().notNull(),
    mentions: json<Work['mentions']>().notNull(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.appointmentId, () => appointment),
    oneOf('work_kind', table.kind, WORK_KINDS),
    index('work_appointment').on(table.clinicId, table.appointmentId),
  ],
)

export const visit = pgTable(
  'visit',
  {
    ...keys<VisitId>(),
    appointmentId: id<AppointmentId>().notNull(),
    stage: text({ enum: VISIT_STAGES }).notNull(),
    since: instantMs().notNull(),
    steps: json<Visit['steps']>().notNull(),
    identity: json<Visit['identity']>(),
    identityDiffered: json<Visit['identityDiffered']>(),
    nameAlertSeen: json<Visit['nameAlertSeen']>(),
    readBack: json<Visit['readBack']>(),
    recounted: json<Visit['recounted']>(),
    timeOut: json<Visit['timeOut']>(),
    consent: json<Visit['consent']>(),
    clamp: json<Visit['clamp']>(),
    counts: json<Visit['counts']>(),
    aftercare: json<Visit['aftercare']>(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.appointmentId, () => appointment),
    oneOf('visit_stage', table.stage, VISIT_STAGES),
    uniqueIndex('visit_one').on(table.clinicId, table.appointmentId),
  ],
)

export const occupancy = pgTable(
  'occupancy',
  {
    ...keys<OccupancyId>(),
    operatoryId: id<OperatoryId>().notNull(),
    life: json<Occupancy['life']>().notNull(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.operatoryId, () => operatory),
    livesAs('occupancy_life', table.life, kinds<Occupancy['life']>()('occupied', 'turning-over', 'clear')),
    uniqueIndex('occupancy_one').on(table.clinicId, table.operatoryId),
  ],
)

const INCIDENT_KINDS = [
  'stop-check-side',
  'lost-clamp',
  'bleach-on-tissue',
  'anaesthetic-reaction',
  'collapse',
  'taste-or-burn',
] as const satisfies readonly Incident['kind'][]
export const incident = pgTable(
  'incident',
  {
    ...keys<IncidentId>(),
    appointmentId: id<AppointmentId>(),
    operatoryId: id<OperatoryId>(),
    kind: text({ enum: INCIDENT_KINDS }).notNull(),
    at: instantMs().notNull(),
    by: id<MemberId>().notNull(),
    drill: boolean().notNull(),
    steps: json<Incident['steps']>().notNull(),
    life: json<Incident['life']>().notNull(),
  },
  (table) => [
    factKey(table),
    pointsAt(table, table.appointmentId, () => appointment),
    pointsAt(table, table.operatoryId, () => operatory),
    pointsAt(table, table.by, () => member),
    oneOf('incident_kind', table.kind, INCIDENT_KINDS),
    livesAs('incident_life', table.life, kinds<Incident['life']>()('open', 'closed')),
    index('incident_appointment').on(table.clinicId, table.appointmentId),
    index('incident_operatory').on(table.clinicId, table.operatoryId),
  ],
)

import type { ClockTime, Day, Instant, Minutes, Zone } from '../base/moment.ts'
import type {
  AppointmentId,
  ClinicId,
  ImportSourceId,
  IncidentId,
  MemberId,
  OccupancyId,
  OperatoryId,
  PatientId,
  SiteId,
  VisitId,
} from '../ids.ts'
import type { ProcedureKind } from '../procedures/work.ts'
import type { Tooth } from '../teeth/tooth.ts'

/** HL7 FHIR R4 AppointmentStatus, all ten codes (READ). */
export const APPOINTMENT_STATUSES = [
  'proposed',
  'pending',
  'booked',
  'arrived',
  'fulfilled',
  'cancelled',
  'noshow',
  'entered-in-error',
  'checked-in',
  'waitlist',
] as const
export type AppointmentStatus = (typeof APPOINTMENT_STATUSES)[number]

/** Which version of something a source speaks of: its counter of changes, and when it was written. */
export interface Version {
  sequence: number | null
  stamp: Instant | null
}

/** Where an appointment came from, so that the same one is known again. */
export interface ExternalReference {
  sourceId: ImportSourceId
  externalId: string
  recurrenceKey: string
  sequence: number | null
  stamp: Instant | null
  contentHash: string
  /** In which version the source gave the whole that this is of; null where it came alone. */
  whole: Version | null
}

/** Why another dentist treats than was to: who was to is away, someone changed it, or a list says so. */
export const DENTIST_CHANGES = ['away', 'by-hand', 'listed'] as const
export type DentistChange = (typeof DENTIST_CHANGES)[number]

/** Whom the patient still expects, where another treats now. */
export interface FormerDentist {
  memberId: MemberId
  why: DentistChange
  by: MemberId
  since: Instant
  /** The desk has told the patient. */
  called: { by: MemberId; at: Instant } | null
}

/** Local time and zone are the authority; `start` is derived from them in one place, on the server. */
export interface Appointment {
  clinicId: ClinicId
  id: AppointmentId
  siteId: SiteId
  operatoryId: OperatoryId | null
  patientId: PatientId
  dentistId: MemberId | null
  /** The student who carries it out under `dentistId` as instructor. */
  studentId: MemberId | null
  status: AppointmentStatus
  day: Day
  startsAt: ClockTime
  zone: Zone
  start: Instant
  minutes: Minutes
  note: string
  external: ExternalReference | null
  /** A re-import no longer lists it and did not cancel it: to be asked, never dropped. */
  vanished: { at: Instant } | null
  /** Null or left out: whom the patient expects treats. */
  formerDentist: FormerDentist | null
}

export const isOver = (status: AppointmentStatus): boolean =>
  status === 'fulfilled' || status === 'cancelled' || status === 'noshow' || status === 'entered-in-error'

/** The stages of a visit, in order. A stage is never skipped backwards except by leaving the chair. */
export const VISIT_STAGES = [
  'expected',
  'arrived',
  'seated',
  'injected',
  'clamped',
  'started',
  'finished',
  'left',
] as const
export type VisitStage = (typeof VISIT_STAGES)[number]

/** Whether a visit is as far as that, or further. */
export const hasReached = (stage: VisitStage, other: VisitStage): boolean =>
  VISIT_STAGES.indexOf(stage) >= VISIT_STAGES.indexOf(other)

/** What of a patient's answers can be compared with the record. A photo or a carer's word cannot. */
export const COMPARED = ['name', 'birth-day', 'number'] as const
export type Compared = (typeof COMPARED)[number]

export interface Identity {
  /** What was answered to an open question: two different ones. */
  identifiers: ('full-name' | 'birth-day' | 'patient-number' | 'photo' | 'carer')[]
  how: 'asked' | 'typed' | 'scanned'
  /** The record as it was when they answered; null or left out: not kept. */
  of: Who | null
  by: MemberId
  at: Instant
}

/** What of a record says which person it is of. */
export interface Who {
  given: string
  family: string
  born: Day | null
}

/** Tooth and side said aloud and answered, at the needle and at the start. */
export interface ReadBack {
  teeth: Tooth[]
  planNumber: number
  by: MemberId
  at: Instant
}

/** One kind of work on these teeth, as permission was given for it. */
export interface PermittedWork {
  kind: ProcedureKind | 'undetermined'
  teeth: Tooth[]
}

/** One appointment as it is lived: where it stands, and each step that brought it there. */
export interface Visit {
  clinicId: ClinicId
  id: VisitId
  appointmentId: AppointmentId
  stage: VisitStage
  since: Instant
  steps: { stage: VisitStage; at: Instant; by: MemberId }[]
  identity: Identity | null
  /**
   * An answer differed from the record: for the rest of the visit who it is is typed or scanned, on every screen.
   * `settled` once such an answer agreed. Null or left out: none differed.
   */
  identityDiffered: { what: Compared[]; by: MemberId; at: Instant; settled: Instant | null } | null
  nameAlertSeen: { by: MemberId; at: Instant } | null
  readBack: ReadBack | null
  /** Counted before the dam and again through it, for the work on these teeth; null or left out: not kept, so of none. */
  recounted: { before: Instant | null; through: Instant | null; teeth: Tooth[] | null; by: MemberId } | null
  timeOut: ReadBack | null
  consent: {
    text: string
    teeth: Tooth[]
    /** What it was given for, tooth by tooth; null or left out: not kept, so it covers nothing. */
    work: PermittedWork[] | null
    by: MemberId
    at: Instant
  } | null
  clamp: { tiedBy: MemberId; at: Instant } | null
  counts: {
    clamps: number
    sheetPieces: number
    ligatures: number
    needles: number
    files: number
    blades: number
    by: MemberId
    at: Instant
  } | null
  aftercare: { to: 'patient' | 'carer'; by: MemberId; at: Instant } | null
}

export const ROOM_TASKS = ['barriers', 'wet-time', 'water-air', 'suction', 'light'] as const
export type RoomTask = (typeof ROOM_TASKS)[number]

/** What an operatory is doing now. One per operatory. */
export interface Occupancy {
  clinicId: ClinicId
  id: OccupancyId
  operatoryId: OperatoryId
  life:
    | { kind: 'occupied'; appointmentId: AppointmentId; since: Instant }
    | { kind: 'turning-over'; since: Instant; done: RoomTask[]; latexUsed: boolean }
    | { kind: 'clear'; since: Instant }
}

/** "Stop, check side" and help called: kept even when it was nothing. */
export interface Incident {
  clinicId: ClinicId
  id: IncidentId
  appointmentId: AppointmentId | null
  operatoryId: OperatoryId | null
  kind:
    | 'stop-check-side'
    | 'lost-clamp'
    | 'bleach-on-tissue'
    | 'anaesthetic-reaction'
    | 'collapse'
    | 'taste-or-burn'
  at: Instant
  by: MemberId
  drill: boolean
  steps: { text: string; at: Instant; by: MemberId }[]
  life: { kind: 'open' } | { kind: 'closed'; at: Instant; by: MemberId; outcome: string }
}

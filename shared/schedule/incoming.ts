import type { ClockTime, Day, Instant, Minutes, Zone } from '../base/moment.ts'
import type { Identifier } from '../people/patient.ts'
import type { Notation } from '../teeth/notation-names.ts'
import type { Surface, Tooth } from '../teeth/tooth.ts'
import type { AppointmentStatus, Version } from './appointment.ts'
import type { ExportForm } from './exported-mark.ts'
import type { Ending, ImportFormat } from './import-batch.ts'

/** A patient as a source names them. */
export interface IncomingPatient {
  given: string
  family: string
  /** Null where the source does not say. */
  born: Day | null
  identifiers: Identifier[]
}

/** A tooth that a source codes, with its own words and the teeth they can mean. */
export interface IncomingTooth {
  text: string
  notation: Notation
  candidates: Tooth[]
}

/** One line of work. `text` holds the source's words, tooth and surfaces included where they are words. */
export interface IncomingWork {
  text: string
  teeth: IncomingTooth[]
  surfaces: Surface[]
}

/** What a source says of allergies: its free text, or one coded entry. */
export type IncomingAllergy =
  | {
      kind: 'text'
      line: number
      patient: IncomingPatient
      text: string
      /** When the source says that the patient was asked; null where it does not. */
      asked: { by: null; at: Instant; day: Day } | null
    }
  | {
      kind: 'coded'
      line: number
      patient: IncomingPatient
      text: string
      code: { system: string; code: string } | null
      /** HL7 AllergyIntolerance clinicalStatus; null where it is not given or not known to us. */
      clinical: 'active' | 'inactive' | 'resolved' | null
      verification: 'unconfirmed' | 'confirmed' | 'refuted' | 'entered-in-error' | null
      /** Apart from severity: how bad a next exposure may be. */
      criticality: 'low' | 'high' | 'unable-to-assess' | null
      severity: 'mild' | 'moderate' | 'severe' | null
      recorded: Instant | null
      /** The day of it on the clinic's clock. */
      recordedOn: Day | null
    }

/** One appointment in the form that every source is brought to. Names are the source's own; who they are is decided in `reconcile`. */
export interface IncomingAppointment {
  /** Where it stands in the file: a line, or the place of a resource, from 1. */
  line: number
  /** The source's own id; null where it has none. */
  externalId: string | null
  /** Which of a series: the original local start, or empty. */
  recurrenceKey: string
  /** The source's own counter of changes; null where it has none. */
  sequence: number | null
  /** When the source last wrote it; null where it does not say. */
  stamp: Instant | null
  /** SHA-256 of all content below. */
  contentHash: string
  status: AppointmentStatus
  day: Day
  startsAt: ClockTime
  zone: Zone
  start: Instant
  /** The file gave its time by a clock, without saying where that hangs: `zone` was taken for it. */
  byClock?: true | undefined
  minutes: Minutes
  operatory: string | null
  dentist: string | null
  /** Null where the source names nobody: only an appointment known already can be meant. */
  patient: IncomingPatient | null
  /** Null where the source says nothing of the work: then what is known stands. */
  work: IncomingWork[] | null
  note: string | null
  /**
   * Where the file gives all of this external id, series and its exceptions alike: in which version. What else is known
   * of it has moved or is gone.
   */
  whole?: Version | undefined
  /** An event of our own feeds that has gone to another operatory or dentist: here it says nothing of itself. */
  movedAway?: true | undefined
  /** Of a row that an export of ours gave: how it says things, and the mark of what it said; null where that is lost. */
  ofOurs?: { form: ExportForm; mark: string | null } | undefined
}

/** A row or a part of one that cannot be taken: what, why, what to do; with the row as it stood in the file. */
export interface IncomingProblem {
  line: number
  field: string
  text: string
  original: string
  /** The source's own id, where it could be read: what a file still names has not vanished. */
  externalId?: string | undefined
  /** What it ends by that id, though it cannot be placed in a day. */
  ends?: Ending | undefined
}

/** A line that is no row: a title, a total, a resource of another kind. Counted, so that every line is accounted for. */
export interface PassedOver {
  /** The first, where it is said of several. */
  line: number
  why: string
  /** How many rows it is said of; one where it is absent. */
  rows?: number
}

/** Which days a file speaks for whole. Only what it covers can vanish. */
export interface Coverage {
  days: Day[]
  /** Operatory names; null for all. */
  operatories: string[] | null
}

/** A file as read: every row stands in one of the lists. */
export interface Incoming {
  format: ImportFormat
  /** Rows, resources or events found. */
  rows: number
  appointments: IncomingAppointment[]
  allergies: IncomingAllergy[]
  problems: IncomingProblem[]
  passedOver: PassedOver[]
  /** Null where the file speaks only of single appointments. */
  covers: Coverage | null
  /** What was taken for granted, in words for the preview: encoding, lengths, zone. */
  assumed: string[]
}

/** The days and operatories that a list of appointments names. */
export function coverageOf(all: readonly IncomingAppointment[]): Coverage {
  const appointments = all.filter(({ movedAway }) => !movedAway)
  const days = [...new Set(appointments.map(({ day }) => day))].sort()
  const names = appointments.map(({ operatory }) => operatory)
  return {
    days,
    operatories: names.includes(null) ? null : [...new Set(names.filter((name) => name !== null))].sort(),
  }
}

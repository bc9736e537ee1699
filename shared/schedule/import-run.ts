import type { Day, Instant } from '../base/moment.ts'
import { type Change, joinChanges, putting, removing } from '../change.ts'
import type { World } from '../facts.ts'
import type { AppointmentId, ClinicId, MemberId, WorkId } from '../ids.ts'
import type { Appointment } from './appointment.ts'
import type { ScheduleFinding } from './findings.ts'
import type { ImportCounts, ImportSource } from './import-batch.ts'
import type { ImportFinding } from './import-findings.ts'
import { type AppointmentIndex, openAppointmentIndex } from './import-matches.ts'
import { openPatientBook, type PatientBook } from './import-people.ts'
import { openPlaces, type Places, type UnknownName } from './import-places.ts'
import type { Unread } from './import-unread.ts'
import type { Coverage, IncomingAllergy, IncomingAppointment, IncomingProblem } from './incoming.ts'
import { findUnderWay, type UnderWay } from './under-way.ts'

/** What a file says, and which source says it. */
export interface ImportContent {
  source: ImportSource
  appointments: IncomingAppointment[]
  allergies: IncomingAllergy[]
  /** Rows that could not be read. */
  problems: IncomingProblem[]
  covers: Coverage | null
}

/** The same, once what it ends by ids alone is known: what is still unread it lists all the same. */
export interface ReadContent extends ImportContent {
  unread: Unread
}

export interface ReconcileContext {
  clinicId: ClinicId
  now: Instant
  today: Day
  by: MemberId
  newId: <Id>() => Id
}

export const OUTCOMES = ['new', 'changed', 'cancelled', 'unchanged', 'older', 'vanished'] as const
export type Outcome = (typeof OUTCOMES)[number]

export interface Reconciled {
  change: Change
  /** What became of each row that was taken; line 0 for what vanished. Null: a late row of what was ended unseen. */
  outcomes: { line: number; outcome: Outcome; appointmentId: AppointmentId | null }[]
  counts: ImportCounts
  findings: (ImportFinding | ScheduleFinding)[]
  /** Rows that could not be read or taken, or taken only in part. */
  problems: IncomingProblem[]
  /** Names whose meaning here nobody has said yet, each in the file's words with how many rows use it. */
  names: UnknownName[]
}

/** One run: what it goes by, and what it has come to so far. */
export interface Run {
  world: World
  source: ImportSource
  context: ReconcileContext
  index: AppointmentIndex
  book: PatientBook
  works: Map<AppointmentId, World['work']>
  patients: Map<string, World['patient'][number]>
  /** Whom no list can send away. */
  underWay: Map<AppointmentId, UnderWay>
  put: { appointment: Appointment[]; work: World['work']; tray: World['tray'] }
  goneWork: WorkId[]
  places: Places
  added: Appointment[]
  cancelled: Appointment[]
  outcomes: Reconciled['outcomes']
  findings: Reconciled['findings']
  problems: IncomingProblem[]
}

export function openRun(world: World, content: ReadContent, context: ReconcileContext): Run {
  const works: Run['works'] = new Map()
  for (const work of world.work)
    works.set(work.appointmentId, [...(works.get(work.appointmentId) ?? []), work])
  return {
    world,
    source: content.source,
    context,
    index: openAppointmentIndex(world, content, context.today),
    book: openPatientBook(world, context),
    works,
    patients: new Map(world.patient.map((patient) => [patient.id, patient])),
    underWay: findUnderWay(world),
    put: { appointment: [], work: [], tray: [] },
    goneWork: [],
    places: openPlaces(world, content.source),
    added: [],
    cancelled: [],
    outcomes: [],
    findings: [],
    problems: [],
  }
}

export function record(
  run: Run,
  { incoming, outcome, id }: { incoming: IncomingAppointment; outcome: Outcome; id: AppointmentId | null },
): void {
  run.outcomes.push({ line: incoming.line, outcome, appointmentId: id })
}

/** All that it writes. */
export const changeOf = ({ book, put, goneWork }: Run): Change =>
  joinChanges(
    putting('patient', ...book.put.values()),
    putting('appointment', ...put.appointment),
    putting('work', ...put.work),
    removing('work', ...goneWork),
    putting('tray', ...put.tray),
  )

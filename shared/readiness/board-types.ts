import type { Day, Instant, Minutes } from '../base/moment.ts'
import type { Actor, Check, Gate } from '../base/rule.ts'
import type { Finding } from '../finding.ts'
import type { AppointmentId, MemberId, OperatoryId, SiteId } from '../ids.ts'
import type { OperatoryKind } from '../people/clinic.ts'
import type { ProcedureKind } from '../procedures/work.ts'
import type { FormerDentist, RoomTask, VisitStage } from '../schedule/appointment.ts'
import type { Surface, Tooth } from '../teeth/tooth.ts'
import type { DeskTask } from './desk-task.ts'

/** How a whole appointment stands for its next gate. The worst plank decides. */
export const READINESS_STATES = ['ready', 'preparing', 'ask', 'hold'] as const
export type ReadinessState = (typeof READINESS_STATES)[number]

/** How one plank stands: the four above, and two that only a plank can have. */
export const PLANK_STATES = [...READINESS_STATES, 'later', 'not-needed'] as const
export type PlankState = (typeof PLANK_STATES)[number]

export interface Plank {
  check: Check
  state: PlankState
  /** Share done, for `preparing`; 0 of 0 elsewhere. */
  done: number
  of: number
  /** Why it stands as it does; null when there is nothing to say. */
  finding: Finding | null
  next: Actor | null
  /** The named owner of what is left. */
  owner: MemberId | null
  by: Instant | null
}

/** One appointment as a board shows it: judged, with no fact that its audience may not hold. */
export interface BoardLine {
  appointmentId: AppointmentId
  operatoryId: OperatoryId | null
  start: Instant
  /** Where the day's lateness pushes it; equals `start` when on time. */
  expectedStart: Instant
  minutes: Minutes
  stage: VisitStage
  stageSince: Instant
  /** The next gate, or null after the last. */
  gate: Gate | null
  state: ReadinessState
  /** Six, bottom to top in the order of CHECKS. */
  planks: Plank[]
  /** The first thing missing, or what is in place when nothing is. */
  missing: Finding | null
  next: Actor | null
  owner: MemberId | null
  patient: { name: string; age: number | null } | null
  dentistId: MemberId | null
  /** Whom the patient expects, or did before they were told; null: who treats is whom they know of. */
  formerDentist: FormerDentist | null
  work: {
    kind: ProcedureKind | 'undetermined'
    text: string
    teeth: Tooth[]
    surfaces: Partial<Record<Tooth, Surface[]>>
    asked: string | null
  }[]
  nameAlert: boolean
  allergyFlag: 'none' | 'ask' | 'suspected' | 'confirmed'
}

export interface Lane {
  operatoryId: OperatoryId
  name: string
  position: number
  kind: OperatoryKind
  /** Whose lane it is now: the dentist of the running or next appointment. */
  dentistId: MemberId | null
  room: {
    kind: 'occupied' | 'turning-over' | 'clear' | 'closed'
    since: Instant | null
    /** What is done of turning it over; empty elsewhere. */
    done: RoomTask[]
  }
  now: BoardLine | null
  next: BoardLine[]
}

export interface Board {
  siteId: SiteId
  day: Day
  at: Instant
  lanes: Lane[]
  /** Appointments of the day that no operatory has yet. */
  unplaced: BoardLine[]
}

/** A line for a screen that may hold no clinical fact: its sentence is already said, its planks carry no finding. */
export interface JudgedLine extends Omit<BoardLine, 'missing' | 'planks' | 'allergyFlag'> {
  planks: Omit<Plank, 'finding'>[]
  says: string
  /** What the desk records by touch to answer it, or null. */
  task: DeskTask | null
}
export interface JudgedLane extends Omit<Lane, 'now' | 'next'> {
  now: JudgedLine | null
  next: JudgedLine[]
}
export interface JudgedBoard extends Omit<Board, 'lanes' | 'unplaced'> {
  lanes: JudgedLane[]
  unplaced: JudgedLine[]
}

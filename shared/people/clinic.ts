import type { ClockTime, Day, Instant, Minutes, Zone } from '../base/moment.ts'
import type { ClinicId, MemberId, OperatoryId, SiteId } from '../ids.ts'
import type { Notation } from '../teeth/notation-names.ts'
import type { Role } from './role.ts'

/** The clinic's clock is the wall clock, or in the invented clinic only, the wall clock moved by some milliseconds. */
export type ClinicClock = { kind: 'wall' } | { kind: 'demo'; offset: number }

/** The tenant: one organisation that shares patients, allergies and sets. `id` equals `clinicId`. */
export interface Clinic {
  clinicId: ClinicId
  id: ClinicId
  name: string
  invented: boolean
  notation: Notation
  clock: ClinicClock
}

export interface Site {
  clinicId: ClinicId
  id: SiteId
  name: string
  zone: Zone
  opensAt: ClockTime
  closesAt: ClockTime
  /** Whether an assistant may place a dam here; `not-set` lets them prepare only. Local law decides. */
  assistantPlaces: 'allowed' | 'not-allowed' | 'not-set'
  /** What was looked over at the start of the last day on which anybody did; null or left out: never. */
  startOfDay: StartOfDay | null
}

/** What must be at hand before anybody is treated. */
export const START_LINES = ['oxygen', 'emergency-kit'] as const
export type StartLine = (typeof START_LINES)[number]

export interface StartOfDay {
  day: Day
  lines: { line: StartLine; inOrder: boolean; by: MemberId; at: Instant }[]
}

export const OPERATORY_KINDS = ['surgery', 'hygiene', 'student'] as const
export type OperatoryKind = (typeof OPERATORY_KINDS)[number]

export interface Operatory {
  clinicId: ClinicId
  id: OperatoryId
  siteId: SiteId
  name: string
  /** Order on the board, from 1. */
  position: number
  kind: OperatoryKind
  latexSafe: boolean
  /** When it was retired: it keeps its past and takes nobody new. Null or left out: in use. */
  retiredAt: Instant | null
}

export interface Member {
  clinicId: ClinicId
  id: MemberId
  name: string
  /** As on the board: `Dr Amsel`, `S. Varga`. */
  shortName: string
  roles: Role[]
  active: boolean
  /** Trained and named to release a steriliser load. */
  releasesLoads: boolean
  /** A student who draws their own plan before it is shown to them; null or left out: it is shown at once. */
  drawsFirst: boolean | null
}

/** Hours of a member at a site; breaks are gaps between two of them. */
export interface Roster {
  clinicId: ClinicId
  id: import('../ids.ts').RosterId
  memberId: MemberId
  siteId: SiteId
  day: Day
  start: Instant
  end: Instant
  /** Away in these hours: who said so and when, never why. Null or left out: there. */
  away: { by: MemberId; at: Instant } | null
}

export const minutesOfClock = (time: ClockTime): Minutes =>
  Number(time.slice(0, 2)) * 60 + Number(time.slice(3))

import type { Day, Instant, Minutes } from '../base/moment.ts'
import type {
  AppointmentId,
  ClinicId,
  IndicatorId,
  InstrumentSetId,
  LoadId,
  MemberId,
  PackId,
  SiteId,
  SteriliserId,
  TrayId,
} from '../ids.ts'

export const STERILISER_TYPES = ['gravity', 'dynamic-air-removal'] as const
export type SteriliserType = (typeof STERILISER_TYPES)[number]

export interface Steriliser {
  clinicId: ClinicId
  id: SteriliserId
  siteId: SiteId
  name: string
  type: SteriliserType
  life:
    | { kind: 'in-service' }
    /** Back after one passing repeat, or, where that failed too, after repair and three passing empty cycles. */
    | {
        kind: 'out-of-service'
        since: Instant
        why: string
        passingCycles: number
        until: 'repeat-passes' | 'repaired' | 'three-cycles-pass'
      }
}

export interface Load {
  clinicId: ClinicId
  id: LoadId
  steriliserId: SteriliserId
  number: string
  programme: string
  /** Readings as entered, tenths of a degree Celsius and seconds. */
  reading: { deciCelsius: number; seconds: number; by: MemberId; at: Instant } | null
  started: Instant
  life:
    | { kind: 'running' }
    | { kind: 'ended'; at: Instant }
    | { kind: 'released'; at: Instant; by: MemberId }
    | { kind: 'failed'; at: Instant; by: MemberId; why: string }
}

/** A chemical or biological indicator, or an air-removal test. */
export interface Indicator {
  clinicId: ClinicId
  id: IndicatorId
  steriliserId: SteriliserId
  loadId: LoadId | null
  kind: 'chemical' | 'spore' | 'air-removal'
  placed: Instant
  life: { kind: 'pending' } | { kind: 'read'; at: Instant; by: MemberId; result: 'pass' | 'fail' | 'invalid' }
}

export const PACK_KINDS = [
  'dam-set',
  'examination-set',
  'composite-set',
  'endodontic-set',
  'surgical-set',
  'pulpotomy-set',
  'hygiene-set',
] as const
export type PackKind = (typeof PACK_KINDS)[number]

/** From the chair to the shelf, in order. */
export const TURNAROUND_STEPS = ['soak', 'clean', 'dry', 'pack', 'cycle', 'cool'] as const
export type TurnaroundStep = (typeof TURNAROUND_STEPS)[number]
/** Minutes that each step takes in this clinic, measured there; 0: it is not done. */
export type Turnaround = Record<TurnaroundStep, Minutes>

/** A reusable set of instruments: its home and its place now. */
export interface InstrumentSet {
  clinicId: ClinicId
  id: InstrumentSetId
  kind: PackKind
  mark: string
  homeSiteId: SiteId
  place:
    | { kind: 'shelf'; siteId: SiteId }
    | { kind: 'in-use'; siteId: SiteId }
    | { kind: 'dirty'; siteId: SiteId; since: Instant }
    | { kind: 'processing'; siteId: SiteId; since: Instant }
    | { kind: 'in-transit'; to: SiteId; since: Instant }
  incomplete: boolean
}

/** A wrapped set as it came out of a load. */
export interface Pack {
  clinicId: ClinicId
  id: PackId
  siteId: SiteId
  /** The printed id: short, opaque, with a check character. */
  code: string
  kind: PackKind
  setId: InstrumentSetId | null
  loadId: LoadId | null
  sterilised: Day | null
  /** Outer and inner indicator as seen at opening. */
  seen: {
    outside: 'sound' | 'torn' | 'wet'
    outer: 'changed' | 'not-changed'
    inner: 'changed' | 'not-changed' | 'not-seen'
    by: MemberId
    at: Instant
  } | null
  life:
    | { kind: 'shelf'; place: string }
    /** `place` is where it stood on the shelf, so that it can go back there. */
    | { kind: 'reserved'; trayId: TrayId; at: Instant; place: string }
    | { kind: 'opened'; appointmentId: AppointmentId; at: Instant }
    /** `place` is where it stood before; one held before this was kept, or on its way, has none. */
    | { kind: 'held'; why: string; at: Instant; place?: string }
    /** Sent to another site and not yet scanned in: stock of neither. */
    | { kind: 'in-transit'; to: SiteId; since: Instant }
    | { kind: 'returned'; at: Instant }
}

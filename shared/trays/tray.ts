import type { Day, Instant } from '../base/moment.ts'
import type {
  AppointmentId,
  ClinicId,
  KitId,
  MemberId,
  PackId,
  StockLineId,
  TrayId,
  TrayLineId,
} from '../ids.ts'

export const LINE_CLASSES = ['single-use', 'reusable-set', 'material'] as const
export type LineClass = (typeof LINE_CLASSES)[number]

/** What an item is known to contain, by substance family of `allergies/substance.ts`. */
export type Contents = Record<string, 'free' | 'contains' | 'unknown'>

export interface KitLine {
  /** Our own key, e.g. `sheet`, `clamp`, `floss`; the clamp family and sheet material come from the plan. */
  item: string
  name: string
  count: number
  class: LineClass
  /** For a reusable set: which kind of pack answers this line. */
  packKind: string | null
  contents: Contents
  /** Must be counted back before the patient leaves. */
  countedBack: boolean
}

export const KIT_KEYS = [
  'examination',
  'dam-base',
  'direct-composite',
  'sealant',
  'root-canal',
  'pulpotomy',
  'bonded-indirect',
  'amalgam-removal',
  'bleaching',
  'local-anaesthesia',
  'no-dam-isolation',
  'dam-standby',
] as const
export type KitKey = (typeof KIT_KEYS)[number]

/** A list that trays are laid out from; a dentist may have a variant of their own. */
export interface Kit {
  clinicId: ClinicId
  id: KitId
  key: KitKey
  name: string
  dentistId: MemberId | null
  lines: KitLine[]
}

/** What a changed plan or dentist did to a tray that was already laid out, by name of line. */
export interface TrayDifference {
  added: string[]
  removed: string[]
}

export type TrayLife =
  | { kind: 'needed' }
  | { kind: 'claimed'; by: MemberId; since: Instant; touched: Instant }
  | { kind: 'laid-out'; by: MemberId; at: Instant; recheck: TrayDifference | null }
  | { kind: 'checked'; by: MemberId; at: Instant; planNumber: number }
  | { kind: 'opened'; by: MemberId; at: Instant }
  | { kind: 'counted-back'; by: MemberId; at: Instant }
  | { kind: 'cleared'; at: Instant }
  | {
      kind: 'held'
      at: Instant
      why: string
      before: Exclude<TrayLife['kind'], 'held'>
      /** Codes of packs on the shelf to take in place of those held; a tray held before this was kept has none. */
      instead?: string[]
    }

/** One tray for one appointment. Its lines are facts of their own; the tray carries what a board needs of them. */
export interface Tray {
  clinicId: ClinicId
  id: TrayId
  appointmentId: AppointmentId
  kits: KitKey[]
  /** The plan number its lines were drawn from. */
  planNumber: number
  /** A kit on standby: reserved, not opened, until the dentist chooses. */
  standby: boolean
  life: TrayLife
  done: number
  of: number
  /** The first line not accounted for, with why; null when all are. */
  firstMissing: string | null
  /** Contents of its lines that bear on an allergy: line name by substance family. */
  contains: { substance: string; line: string; certainty: 'contains' | 'unknown' }[]
}

export interface TrayLine {
  clinicId: ClinicId
  id: TrayLineId
  trayId: TrayId
  position: number
  item: string
  name: string
  count: number
  class: LineClass
  packKind: string | null
  contents: Contents
  countedBack: boolean
  packId: PackId | null
  stockLineId: StockLineId | null
  tick: { by: MemberId; at: Instant; inspected: boolean } | null
  /** Why a ticked line does not count: `expired`, `debris`. */
  fault: { why: string; at: Instant; by: MemberId } | null
  /** Put in for another item: what it stands for, and who chose it. */
  swapped: { instead: string; by: MemberId; at: Instant } | null
  /** Left out with the dentist's reason. */
  omitted: { reason: string; by: MemberId; at: Instant } | null
}

/** Single-use items and materials on the shelf, by lot. */
export interface StockLine {
  clinicId: ClinicId
  id: StockLineId
  item: string
  name: string
  lot: string
  expires: Day | null
  count: number
  reorderAt: number
  contents: Contents
}

import type { Instant } from '../base/moment.ts'
import type { AppointmentId, ClinicId, MemberId, OwnWordId, WorkId } from '../ids.ts'
import type { Notation } from '../teeth/notation-names.ts'
import type { Surface, Tooth } from '../teeth/tooth.ts'

export const PROCEDURE_KINDS = [
  'root-canal',
  'retreatment',
  'regenerative',
  'apical-surgery',
  'pulp-cap',
  'pulp-extirpation',
  'root-canal-dressing',
  'pulpotomy',
  'pulpectomy',
  'post-and-core',
  'deep-caries',
  'direct-composite',
  'cervical-composite',
  'glass-ionomer',
  'resin-sealant',
  'glass-ionomer-sealant',
  'bonded-indirect',
  'veneer',
  'conventional-cementation',
  'crown-preparation',
  'amalgam-placement',
  'amalgam-removal',
  'direct-gold',
  'in-office-bleaching',
  'internal-bleaching',
  'microabrasion',
  'resin-infiltration',
  'steel-crown',
  'steel-crown-no-preparation',
  'silver-fluoride',
  'fluoride-varnish',
  'bracket-bonding',
  'temporary-filling',
  'recementation',
  'crown-removal',
  'band-or-space-maintainer',
  'impression',
  'exam',
  'cleaning',
  'scaling',
  'extraction',
  'implant',
  'denture',
  'other',
] as const
export type ProcedureKind = (typeof PROCEDURE_KINDS)[number]

/** From strongest to weakest; `barrier` needs a tissue barrier of which a dam is one, `undetermined` is not known. */
export const NEEDS_OF_ISOLATION = [
  'required',
  'strongly-advised',
  'preferred',
  'optional',
  'not-needed',
  'barrier',
  'undetermined',
] as const
export type NeedOfIsolation = (typeof NEEDS_OF_ISOLATION)[number]

export const TOOTH_SOURCES = ['booking', 'referral', 'consent', 'image', 'patient', 'chart', 'words'] as const
export type ToothSource = (typeof TOOTH_SOURCES)[number]

/** How one source names the tooth: its own words, how it counts, and which teeth it can mean. */
export interface ToothMention {
  source: ToothSource
  text: string
  notation: Notation
  /** One tooth where the mention is clear, several where it is legal in more than one system or contradicts itself. */
  candidates: Tooth[]
  /** An image whose orientation was edited: it may never set a side. */
  mirrored: boolean
  /** A number or letter that names no tooth and that nobody has answered; left out or false: none such. */
  unread?: boolean
  /** Who told it here and when; null or left out: it came with the booking. */
  noted?: { by: MemberId; at: Instant } | null
}

/** A booked procedure: one line of work in an appointment. */
export interface Work {
  clinicId: ClinicId
  id: WorkId
  appointmentId: AppointmentId
  position: number
  /** The booking's own words, always shown. */
  text: string
  kind: ProcedureKind | 'undetermined'
  teeth: Tooth[]
  surfaces: Partial<Record<Tooth, Surface[]>>
  mentions: ToothMention[]
}

/** A word or shorthand of the clinic's own for a kind of work, as a person taught it. */
export interface OwnWord {
  clinicId: ClinicId
  id: OwnWordId
  /** Lower case, single spaces, without tooth or surfaces. */
  words: string
  kind: ProcedureKind
  by: MemberId
  at: Instant
}

import type { Microlitres } from '../base/amount.ts'
import type { Day, Instant } from '../base/moment.ts'
import type {
  AnaestheticId,
  AppointmentId,
  ClinicId,
  DoseId,
  MemberId,
  NumbnessId,
  PatientId,
} from '../ids.ts'
import type { Side, Tooth } from '../teeth/tooth.ts'

/** What comes in cartridges. */
export const INJECTED_AGENTS = ['lidocaine', 'mepivacaine', 'articaine', 'prilocaine', 'bupivacaine'] as const
/** Esters that are only laid on. */
export const TOPICAL_AGENTS = ['benzocaine', 'tetracaine'] as const
export const AGENTS = [...INJECTED_AGENTS, ...TOPICAL_AGENTS] as const
export type Agent = (typeof AGENTS)[number]
/** Whether an agent is only ever laid on. */
export const isOnlyTopical = (agent: Agent): boolean => TOPICAL_AGENTS.some((each) => each === agent)
export const VASOCONSTRICTORS = ['none', 'epinephrine', 'levonordefrin', 'felypressin'] as const
export type Vasoconstrictor = (typeof VASOCONSTRICTORS)[number]
export const TECHNIQUES = ['infiltration', 'block', 'intraligamentary', 'topical'] as const
export type Technique = (typeof TECHNIQUES)[number]

export const LIMIT_PROFILE_IDS = [
  'AAPD-2023',
  'US-LABEL',
  'TEXTBOOK-MFR',
  'CANADA',
  'AUS-OLDER',
  'AUS-V3',
  'AUS-TOXICOLOGY',
  'LOWER-MRD',
  'CE-547',
] as const
export type LimitProfileId = (typeof LIMIT_PROFILE_IDS)[number]

/** One solution in one cartridge size. */
export interface Solution {
  agent: Agent
  /** Concentration in thousandths of a percent: 2 % is 2000, 0.5 % is 500. */
  milliPercent: number
  vasoconstrictor: Vasoconstrictor
  /** 1 : ratio; null without one. */
  ratio: number | null
  cartridge: Microlitres
}

/** What a cartridge's label says of drug and strength. */
export type Label = Omit<Solution, 'cartridge'>

/** A cartridge's label as one person read it aloud, and another answered. */
export interface CartridgeReading extends Label {
  /** The last day it may be used; where only a month is printed, that month's last day. */
  expires: Day
  read: { by: MemberId; at: Instant }
  /** By another person; null: nobody has yet. */
  answered: { by: MemberId; at: Instant } | null
}

export interface PlannedDose extends Solution {
  technique: Technique
  tooth: Tooth | null
  side: Side
  tenthsOfCartridge: number
}

/** What the dentist intends for this appointment. One per appointment. */
export interface Anaesthetic {
  clinicId: ClinicId
  id: AnaestheticId
  appointmentId: AppointmentId
  intent:
    | { kind: 'undecided' }
    | { kind: 'injection'; by: MemberId; at: Instant }
    | { kind: 'none'; reason: string; topicalAtClamp: boolean; by: MemberId; at: Instant }
  planned: PlannedDose[]
  profile: LimitProfileId | null
  /** Labels read at the chair, oldest first; null or left out: none. */
  readings: CartridgeReading[] | null
}

/** An injection given. */
export interface Dose extends PlannedDose {
  clinicId: ClinicId
  id: DoseId
  appointmentId: AppointmentId
  patientId: PatientId
  by: MemberId
  at: Instant
}

/** Where numbness is tested: the gum where a clamp will sit, or the tooth to be worked on. */
export type NumbnessPlace =
  | { kind: 'gum'; tooth: Tooth; side: 'cheek' | 'tongue' }
  | { kind: 'tooth'; tooth: Tooth }
export const NUMBNESS_ANSWERS = ['numb', 'felt', 'not-suitable'] as const
export type NumbnessAnswer = (typeof NUMBNESS_ANSWERS)[number]

/** One answer to one numbness check. The latest for a place counts. */
export interface Numbness {
  clinicId: ClinicId
  id: NumbnessId
  appointmentId: AppointmentId
  place: NumbnessPlace
  answer: NumbnessAnswer
  method: 'probe' | 'cold' | 'electric' | 'patient-said'
  by: MemberId
  at: Instant
}

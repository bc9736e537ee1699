import type { Day, Instant } from '../base/moment.ts'
import type { ClinicId, MemberId, MouthChartId, PatientId } from '../ids.ts'
import type { Tooth } from './tooth.ts'

export const TOOTH_CONDITIONS = [
  'present',
  'missing',
  'unerupted',
  'partly-erupted',
  'ceramic-crown',
  'metal-crown',
  'pontic',
  'abutment',
  'implant',
  'bracketed',
  'banded',
  'broken-down',
  'mobile',
  'malposed',
] as const
export type ToothCondition = (typeof TOOTH_CONDITIONS)[number]

export interface ChartEntry {
  conditions: ToothCondition[]
  by: MemberId
  at: Instant
}

/**
 * What is known of a mouth. `charted` null: nobody has looked, so nothing may be assumed of any tooth without
 * an entry. Charted: a tooth without an entry stands if its dentition is due at this age, third molars never.
 */
export interface MouthChart {
  clinicId: ClinicId
  id: MouthChartId
  patientId: PatientId
  charted: { by: MemberId; at: Instant } | null
  teeth: Partial<Record<Tooth, ChartEntry>>
  /** One tooth's crown width from contact to contact, as measured; null or left out: nobody has. */
  measure: Measure | null
  /** How the gum was left where clamps sat, the last time that anyone looked; null: no clamp yet. */
  clampSites: Partial<Record<Tooth, ClampSite>> | null
}

/** A crown, or a row of standing crowns up to `to`, from outer contact to outer contact along the arch. */
export interface Measure {
  tooth: Tooth
  /** Null or left out: the one crown. */
  to?: Tooth | null
  tenthsOfMm: number
  by: MemberId
  at: Instant
}

export const GUM_STATES = ['sound', 'marked', 'injured'] as const
export type GumState = (typeof GUM_STATES)[number]

export interface ClampSite {
  /** Null: no clamp came to sit here. */
  gum: GumState | null
  /** Teeth that were clamped where one was planned here; left out: it sat as planned. */
  instead?: Tooth[]
  day: Day
  by: MemberId
  at: Instant
}

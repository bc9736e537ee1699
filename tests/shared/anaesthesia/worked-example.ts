import type { Mark } from '#shared/base/source.ts'

/** A printed example: what goes in, what the source itself answers, and ours, floored. */
export interface WorkedExample {
  id: string
  /** Grams where the source gives kilograms, pounds where it gives pounds. */
  weight: { grams: number } | { pounds: number } | null
  /** Milligrams per kilogram or per pound, and the cap in milligrams. */
  perKg?: number
  perLb?: number
  cap?: number
  milliPercent: number
  cartridge: number
  /** `1 : ratio` and the ceiling in nanograms, where the example sets one. */
  ratio?: number
  ceiling?: number
  /** Tenths of a cartridge, ours. */
  tenths: number
  whole: number
  limitedBy: 'drug' | 'vasoconstrictor'
  says: string
  source: string
  mark: Mark | 'DERIVED'
}

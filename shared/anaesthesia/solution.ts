import { ceilDivide, type Nanograms, nanograms } from '../base/amount.ts'
import type { Solution } from './anaesthetic.ts'

/** a × b ÷ c rounded down, exact however large the product. */
export const multiplyDivide = (a: number, b: number, c: number): number =>
  Number((BigInt(a) * BigInt(b)) / BigInt(c))

/** 1 % is 10 mg/mL, so a thousandth of a percent is 10 ng/µL. (US label of lidocaine 2 %; READ) */
const NANOGRAMS_PER_MICROLITRE_OF_MILLI_PERCENT = 10
/** 1 : ratio is 1 g in `ratio` mL: 1 : 100,000 is 0.01 mg/mL. (P&G CE547; READ) */
const NANOGRAMS_PER_MICROLITRE_OF_ONE = 1_000_000

/** Anaesthetic in a whole cartridge. */
export const agentPerCartridge = ({ milliPercent, cartridge }: Solution): Nanograms =>
  nanograms(milliPercent * NANOGRAMS_PER_MICROLITRE_OF_MILLI_PERCENT * cartridge)

/** Vasoconstrictor in a whole cartridge, rounded up; 0 without one, or where it is counted in units. */
export const vasoconstrictorPerCartridge = ({ ratio, cartridge }: Solution): Nanograms =>
  nanograms(ratio === null ? 0 : ceilDivide(cartridge * NANOGRAMS_PER_MICROLITRE_OF_ONE, ratio))

type Given = Solution & { tenthsOfCartridge: number }
/** Anaesthetic in what was given, rounded up. */
export const agentGiven = (dose: Given): Nanograms =>
  nanograms(ceilDivide(agentPerCartridge(dose) * dose.tenthsOfCartridge, 10))
/** Vasoconstrictor in what was given, rounded up. */
export const vasoconstrictorGiven = (dose: Given): Nanograms =>
  nanograms(
    dose.ratio === null
      ? 0
      : ceilDivide(
          dose.cartridge * NANOGRAMS_PER_MICROLITRE_OF_ONE * dose.tenthsOfCartridge,
          dose.ratio * 10,
        ),
  )

/** How many tenths of a cartridge lie within an amount, rounded down. */
export const tenthsWithin = (amount: number, perCartridge: number): number =>
  perCartridge === 0 ? 0 : multiplyDivide(Math.max(0, amount), 10, perCartridge)

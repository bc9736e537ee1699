import { ceilDivide, type Nanograms, nanograms } from '../base/amount.ts'
import { memory, read, type Source } from '../base/source.ts'
import type { Agent, Label, Solution, Vasoconstrictor } from './anaesthetic.ts'

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

const PRINTED = read('US labels and P&G CE646: strengths of dental cartridges')
const ABROAD = read('Therapeutic Guidelines: Oral and Dental; labels outside the US')
const TOPICAL = memory('labels of topical lidocaine: 5 % ointment, 10 % spray')

type Sold = readonly [Agent, number, Vasoconstrictor, number | null, Source]
/** Solutions that are sold, with where we know each from. What is not here was mistyped or is not known to us. */
const SOLD: readonly Sold[] = [
  ['lidocaine', 2000, 'none', null, PRINTED],
  ['lidocaine', 2000, 'epinephrine', 50_000, PRINTED],
  ['lidocaine', 2000, 'epinephrine', 80_000, ABROAD],
  ['lidocaine', 2000, 'epinephrine', 100_000, PRINTED],
  ['lidocaine', 5000, 'none', null, TOPICAL],
  ['lidocaine', 10_000, 'none', null, TOPICAL],
  ['mepivacaine', 3000, 'none', null, PRINTED],
  ['mepivacaine', 2000, 'levonordefrin', 20_000, PRINTED],
  ['mepivacaine', 2000, 'epinephrine', 100_000, ABROAD],
  ['articaine', 4000, 'epinephrine', 100_000, PRINTED],
  ['articaine', 4000, 'epinephrine', 200_000, PRINTED],
  ['prilocaine', 4000, 'none', null, PRINTED],
  ['prilocaine', 4000, 'epinephrine', 200_000, PRINTED],
  ['prilocaine', 3000, 'felypressin', null, ABROAD],
  ['bupivacaine', 500, 'epinephrine', 200_000, PRINTED],
]

/** Whether a solution of this strength is known to be sold. */
export const isSold = ({ agent, milliPercent, vasoconstrictor, ratio }: Label): boolean =>
  SOLD.some(
    ([one, strength, which, of]) =>
      one === agent && strength === milliPercent && which === vasoconstrictor && of === ratio,
  )

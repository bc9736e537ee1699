import type { Label, PlannedDose } from '#shared/anaesthesia/anaesthetic.ts'
import { microlitres } from '#shared/base/amount.ts'

/** Solutions a clinic may have in its drawer, to choose from by touch. Common practice, no source; none is preferred. */
export const SOLUTIONS = [
  { agent: 'lidocaine', milliPercent: 2000, vasoconstrictor: 'epinephrine', ratio: 80_000 },
  { agent: 'lidocaine', milliPercent: 2000, vasoconstrictor: 'epinephrine', ratio: 100_000 },
  { agent: 'articaine', milliPercent: 4000, vasoconstrictor: 'epinephrine', ratio: 100_000 },
  { agent: 'articaine', milliPercent: 4000, vasoconstrictor: 'epinephrine', ratio: 200_000 },
  { agent: 'mepivacaine', milliPercent: 3000, vasoconstrictor: 'none', ratio: null },
  { agent: 'prilocaine', milliPercent: 4000, vasoconstrictor: 'none', ratio: null },
  { agent: 'prilocaine', milliPercent: 3000, vasoconstrictor: 'felypressin', ratio: null },
  { agent: 'bupivacaine', milliPercent: 500, vasoconstrictor: 'epinephrine', ratio: 200_000 },
] as const satisfies readonly Label[]

export const CARTRIDGES = [microlitres(1700), microlitres(1800), microlitres(2200)] as const

/** `1.5 cartridges of 1.7 mL`. */
export const amountWords = ({ tenthsOfCartridge, cartridge }: PlannedDose): string =>
  `${tenthsOfCartridge / 10} ${tenthsOfCartridge === 10 ? 'cartridge' : 'cartridges'} of ${cartridge / 1000} mL`

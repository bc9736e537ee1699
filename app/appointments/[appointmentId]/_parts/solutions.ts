import { toothIn } from '#app/_ui/teeth-words.ts'
import type { Label, PlannedDose, Technique } from '#shared/anaesthesia/anaesthetic.ts'
import { microlitres } from '#shared/base/amount.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'
import { sayLabel } from '#shared/words/en/anaesthesia.ts'

/** Solutions and gels a clinic may have in its drawer, to choose from by touch. Common practice, no source; none is preferred. */
export const SOLUTIONS = [
  { agent: 'lidocaine', milliPercent: 2000, vasoconstrictor: 'epinephrine', ratio: 80_000 },
  { agent: 'lidocaine', milliPercent: 2000, vasoconstrictor: 'epinephrine', ratio: 100_000 },
  { agent: 'articaine', milliPercent: 4000, vasoconstrictor: 'epinephrine', ratio: 100_000 },
  { agent: 'articaine', milliPercent: 4000, vasoconstrictor: 'epinephrine', ratio: 200_000 },
  { agent: 'mepivacaine', milliPercent: 3000, vasoconstrictor: 'none', ratio: null },
  { agent: 'prilocaine', milliPercent: 4000, vasoconstrictor: 'none', ratio: null },
  { agent: 'prilocaine', milliPercent: 3000, vasoconstrictor: 'felypressin', ratio: null },
  { agent: 'bupivacaine', milliPercent: 500, vasoconstrictor: 'epinephrine', ratio: 200_000 },
  { agent: 'lidocaine', milliPercent: 5000, vasoconstrictor: 'none', ratio: null },
  { agent: 'benzocaine', milliPercent: 20_000, vasoconstrictor: 'none', ratio: null },
] as const satisfies readonly Label[]

export const CARTRIDGES = [microlitres(1700), microlitres(1800), microlitres(2200)] as const

/** `1.5 cartridges of 1.7 mL`; of what is laid on, about how much. */
export const amountWords = ({ tenthsOfCartridge, cartridge, technique }: PlannedDose): string =>
  technique === 'topical'
    ? `about ${(tenthsOfCartridge * cartridge) / 10_000} mL`
    : `${tenthsOfCartridge / 10} ${tenthsOfCartridge === 10 ? 'cartridge' : 'cartridges'} of ${cartridge / 1000} mL`

export const TECHNIQUE_WORDS: Record<Technique, string> = {
  infiltration: 'infiltration',
  block: 'block',
  intraligamentary: 'into the ligament',
  topical: 'topical',
}

/** `lidocaine 2 %, epinephrine 1 : 100 000, block at 46`. */
export const doseWords = (dose: PlannedDose, notation: Notation): string =>
  `${sayLabel(dose)}, ${TECHNIQUE_WORDS[dose.technique]}${dose.tooth ? ` at ${toothIn(dose.tooth, notation)}` : ''}`

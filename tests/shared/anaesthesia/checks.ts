import type { Solution } from '#shared/anaesthesia/anaesthetic.ts'
import { checkDoses } from '#shared/anaesthesia/dose.ts'
import type { CheckedDose, DoseQuestion } from '#shared/anaesthesia/dose-question.ts'
import { grams, microlitres } from '#shared/base/amount.ts'

/** Doses and questions, with one thing changed at a time. */
export const MILLIGRAM = 1_000_000
export const solution = (more: Partial<Solution> = {}): Solution => ({
  agent: 'lidocaine',
  milliPercent: 2000,
  vasoconstrictor: 'epinephrine',
  ratio: 100_000,
  cartridge: microlitres(1700),
  ...more,
})
export const dose = (tenths: number, more: Partial<CheckedDose> = {}): CheckedDose => ({
  ...solution(),
  tenthsOfCartridge: tenths,
  by: null,
  ...more,
})
export const ARTICAINE = { agent: 'articaine', milliPercent: 4000 } as const
export const MEPIVACAINE = {
  agent: 'mepivacaine',
  milliPercent: 3000,
  vasoconstrictor: 'none',
  ratio: null,
} as const
export const PRILOCAINE = {
  agent: 'prilocaine',
  milliPercent: 4000,
  vasoconstrictor: 'none',
  ratio: null,
} as const
export const BUPIVACAINE = { agent: 'bupivacaine', milliPercent: 500, ratio: 200_000 } as const
export const question = (doses: CheckedDose[], more: Partial<DoseQuestion> = {}): DoseQuestion => ({
  profile: 'AAPD-2023',
  weight: grams(15_000),
  ageYears: 4,
  ageMonths: null,
  ceiling: 'healthy',
  bars: [],
  unsaid: [],
  combine: 'lower-of-two',
  doses,
  ...more,
})
export const check = (doses: CheckedDose[], more: Partial<DoseQuestion> = {}) =>
  checkDoses(question(doses, more))
export const rulesOf = (doses: CheckedDose[], more: Partial<DoseQuestion> = {}) =>
  check(doses, more)
    .findings.filter(({ level }) => level !== 'note')
    .map(({ rule }) => rule)
export const ADULT = { profile: 'US-LABEL', ageYears: 40, weight: grams(70_000) } as const

import { type Grams, type Nanograms, nanograms } from '../base/amount.ts'
import { memory, read, type Source } from '../base/source.ts'
import type { Agent, LimitProfileId, Solution } from './anaesthetic.ts'
import { multiplyDivide } from './solution.ts'

/** For whom a printed row speaks. Ages in whole years, both ends included. */
export interface Population {
  from: number
  to: number
}
const ANYONE: Population = { from: 0, to: 200 }
const ADULT: Population = { from: 18, to: 200 }

/** One printed maximum. Amounts in nanograms; null where the source gives none. */
export interface Limit {
  agent: Agent
  /** Printed for solutions with a vasoconstrictor, without, or for either. */
  vasoconstrictor: 'with' | 'without' | 'either'
  population: Population
  perKilogram: number | null
  /** Only where the source prints no figure per kilogram; where it prints both, the lower is kept. */
  perPound: number | null
  cap: number | null
  /** A second, lower figure per pound that the same source prints as a formula; between the two the dentist is asked. */
  formulaPerPound: number | null
  /** Epinephrine per kilogram that the same source allows with this agent. */
  vasoconstrictorPerKilogram: number | null
  /** Printed, and not to be used before a dentist has confirmed the row. */
  confirmed: boolean
  source: Source
}

const MILLIGRAM = 1_000_000
const milligrams = (value: number): number => Math.round(value * MILLIGRAM)

interface Printed {
  perKg?: number
  perLb?: number
  cap?: number
  formulaPerLb?: number
  epinephrinePerKg?: number
  vasoconstrictor?: Limit['vasoconstrictor']
  population?: Population
  confirmed?: boolean
}
const limit = (agent: Agent, source: Source, printed: Printed): Limit => ({
  agent,
  vasoconstrictor: printed.vasoconstrictor ?? 'either',
  population: printed.population ?? ANYONE,
  perKilogram: printed.perKg === undefined ? null : milligrams(printed.perKg),
  perPound: printed.perLb === undefined ? null : milligrams(printed.perLb),
  cap: printed.cap === undefined ? null : milligrams(printed.cap),
  formulaPerPound: printed.formulaPerLb === undefined ? null : Math.floor(printed.formulaPerLb * MILLIGRAM),
  vasoconstrictorPerKilogram:
    printed.epinephrinePerKg === undefined ? null : milligrams(printed.epinephrinePerKg),
  confirmed: printed.confirmed ?? true,
  source,
})

const AAPD = memory('AAPD, Use of Local Anesthesia for Pediatric Dental Patients, rev. 2023')
const AAPD_TAUGHT = read('AAPD 2023 as given on a dental teaching page on paediatric anaesthetics')
const LIDOCAINE_LABEL = read('US label, lidocaine 2 % with epinephrine, dental cartridge')
const PLAIN_LIDOCAINE_LABEL = read('US label, lidocaine (child text and plain solutions)')
const ARTICAINE_LABEL = read('US label, articaine 4 % with epinephrine, sections 2.1 and 2.2')
const MEPIVACAINE_LABEL = read('US label, mepivacaine 3 % and 2 % with levonordefrin')
const PRILOCAINE_LABEL = read('US label, prilocaine 4 %')
const MAGAZINE = read('CE magazine article on maximum doses, pp 27–29')
const MALAMED = read('Malamed, Handbook of Local Anesthesia, tables 4-4 and 4-17')
const CANADA = read('PMC9379193, table 1 (after Haas & Lennon)')
const AUSTRALIA_OLDER = read('Therapeutic Guidelines: Oral and Dental, earlier edition (2011 reprint)')
const AUSTRALIA_V3 = read('Therapeutic Guidelines: Oral and Dental v3, figure 1')
const AUSTRALIA_TOXICOLOGY = read('Therapeutic Guidelines: Toxicology, table')
const CE_547 = read('P&G CE547, Taifour & Terézhalmy 2018, table 3')

/** Pounds ÷ 150 of 400 mg, beside the same label's table of 3 mg per pound. (US label, mepivacaine; READ) */
const CHILD_FORMULA = 400 / 150

/** Each authority's own maxima, kept apart and never merged. */
export const LIMIT_PROFILES: Record<LimitProfileId, readonly Limit[]> = {
  'AAPD-2023': [
    limit('lidocaine', AAPD_TAUGHT, { perKg: 4.4, cap: 300 }),
    limit('articaine', AAPD_TAUGHT, { perKg: 7, cap: 500, vasoconstrictor: 'with' }),
    limit('mepivacaine', AAPD, { perKg: 4.4, cap: 300 }),
    limit('bupivacaine', AAPD, { perKg: 1.3, cap: 90, vasoconstrictor: 'with' }),
    // An older edition's row; the current one is uncertain.
    limit('prilocaine', AAPD, { perKg: 6, cap: 400, confirmed: false }),
  ],
  'US-LABEL': [
    limit('lidocaine', LIDOCAINE_LABEL, {
      perKg: 7,
      cap: 500,
      vasoconstrictor: 'with',
      population: { from: 10, to: 200 },
    }),
    // Under ten years by Clark's rule, pounds ÷ 150 of 300 mg: 100 mg at 50 lb, the upper end of what it prints.
    limit('lidocaine', PLAIN_LIDOCAINE_LABEL, {
      perLb: 2,
      cap: 500,
      vasoconstrictor: 'with',
      population: { from: 0, to: 9 },
    }),
    limit('lidocaine', PLAIN_LIDOCAINE_LABEL, {
      perKg: 4.5,
      cap: 300,
      vasoconstrictor: 'without',
      population: ADULT,
    }),
    limit('articaine', ARTICAINE_LABEL, { perKg: 7, epinephrinePerKg: 0.0017, vasoconstrictor: 'with' }),
    limit('mepivacaine', MEPIVACAINE_LABEL, { perLb: 3, cap: 400, population: ADULT }),
    limit('mepivacaine', MEPIVACAINE_LABEL, {
      perLb: 3,
      formulaPerLb: CHILD_FORMULA,
      cap: 270,
      vasoconstrictor: 'without',
      population: { from: 0, to: 17 },
    }),
    limit('mepivacaine', MEPIVACAINE_LABEL, {
      perLb: 3,
      formulaPerLb: CHILD_FORMULA,
      cap: 180,
      vasoconstrictor: 'with',
      population: { from: 0, to: 17 },
    }),
    // 8 mg/kg below 70 kg and 600 mg above would jump at 70 kg: the lower of the two everywhere. Printed for children
    // over ten; under ten a formula, without figures, and of ten itself nothing.
    limit('prilocaine', PRILOCAINE_LABEL, { perKg: 8, cap: 600, population: { from: 11, to: 200 } }),
    limit('bupivacaine', MAGAZINE, { cap: 90, vasoconstrictor: 'with', population: ADULT }),
  ],
  'TEXTBOOK-MFR': [
    limit('lidocaine', MALAMED, { perKg: 7, cap: 500, vasoconstrictor: 'with' }),
    limit('mepivacaine', MALAMED, { perKg: 6.6, cap: 400 }),
    limit('articaine', MALAMED, { perKg: 7, vasoconstrictor: 'with' }),
    limit('prilocaine', MALAMED, { perKg: 8, cap: 600 }),
    limit('bupivacaine', MALAMED, { cap: 90, vasoconstrictor: 'with' }),
  ],
  CANADA: [
    limit('lidocaine', CANADA, { perKg: 7, cap: 500 }),
    limit('articaine', CANADA, { perKg: 7, cap: 500 }),
    limit('mepivacaine', CANADA, { perKg: 6.6, cap: 400 }),
    limit('prilocaine', CANADA, { perKg: 8, cap: 500 }),
    // 200 mg here against 90 mg elsewhere: as printed.
    limit('bupivacaine', CANADA, { perKg: 2, cap: 200 }),
  ],
  'AUS-OLDER': [
    limit('lidocaine', AUSTRALIA_OLDER, { perKg: 4.4, cap: 300, population: ADULT }),
    limit('mepivacaine', AUSTRALIA_OLDER, { perKg: 4.4, cap: 300, population: ADULT }),
    limit('articaine', AUSTRALIA_OLDER, { perKg: 7, cap: 500, population: ADULT }),
    limit('prilocaine', AUSTRALIA_OLDER, { perKg: 6, cap: 400, population: ADULT }),
    limit('bupivacaine', AUSTRALIA_OLDER, { perKg: 1.3, cap: 90, population: ADULT }),
  ],
  'AUS-V3': [limit('lidocaine', AUSTRALIA_V3, { perKg: 7, vasoconstrictor: 'with', population: ADULT })],
  'AUS-TOXICOLOGY': [
    limit('lidocaine', AUSTRALIA_TOXICOLOGY, { perKg: 3, vasoconstrictor: 'without' }),
    limit('lidocaine', AUSTRALIA_TOXICOLOGY, { perKg: 7, vasoconstrictor: 'with' }),
    limit('bupivacaine', AUSTRALIA_TOXICOLOGY, { perKg: 2 }),
    limit('prilocaine', AUSTRALIA_TOXICOLOGY, { perKg: 6 }),
    limit('articaine', AUSTRALIA_TOXICOLOGY, { perKg: 7 }),
    // Printed as 5 to 7 without: the lower end.
    limit('mepivacaine', AUSTRALIA_TOXICOLOGY, { perKg: 5, vasoconstrictor: 'without' }),
    limit('mepivacaine', AUSTRALIA_TOXICOLOGY, { perKg: 6.6, vasoconstrictor: 'with' }),
  ],
  'LOWER-MRD': [limit('lidocaine', MAGAZINE, { perLb: 2, cap: 300, population: ADULT })],
  'CE-547': [
    limit('lidocaine', CE_547, { cap: 500, population: ADULT }),
    limit('mepivacaine', CE_547, { cap: 400, population: ADULT }),
    limit('prilocaine', CE_547, { cap: 600, population: ADULT }),
    limit('articaine', CE_547, { cap: 500, population: ADULT }),
  ],
}

/** The profile's row for a solution: none at all, none for this age, not confirmed, or the row. */
export type FoundLimit = Limit | 'no-row' | 'not-for-age' | 'not-confirmed'

export function findLimit(profile: LimitProfileId, solution: Solution, ageYears: number): FoundLimit {
  const rows = LIMIT_PROFILES[profile].filter((row) => fits(row, solution))
  if (rows.length === 0) return 'no-row'
  const row = rows.find(({ population }) => ageYears >= population.from && ageYears <= population.to)
  if (!row) return 'not-for-age'
  return row.confirmed ? row : 'not-confirmed'
}

const fits = (row: Limit, { agent, vasoconstrictor }: Solution): boolean =>
  row.agent === agent &&
  (row.vasoconstrictor === 'either' || (row.vasoconstrictor === 'without') === (vasoconstrictor === 'none'))

/** 1 lb = 453.59237 g exactly. */
const GRAMS_PER_POUND = [45_359_237, 100_000] as const

/** The most that a row allows at this weight, rounded down, and what sets it. */
export function mostAt(
  row: Pick<Limit, 'perKilogram' | 'perPound' | 'cap'>,
  weight: Grams,
): {
  amount: Nanograms
  limitedBy: 'weight' | 'cap'
} {
  const byWeight = amountByWeight(row, weight)
  if (row.cap !== null && (byWeight === null || row.cap < byWeight)) {
    return { amount: nanograms(row.cap), limitedBy: 'cap' }
  }
  return { amount: nanograms(byWeight ?? 0), limitedBy: 'weight' }
}

function amountByWeight(
  { perKilogram, perPound }: Pick<Limit, 'perKilogram' | 'perPound'>,
  weight: Grams,
): number | null {
  if (perKilogram !== null) return multiplyDivide(perKilogram, weight, 1000)
  if (perPound === null) return null
  const [numerator, denominator] = GRAMS_PER_POUND
  return multiplyDivide(perPound * denominator, weight, numerator)
}

/** What the same source's formula comes to at this weight, rounded down; null where it prints none. */
export const formulaAt = ({ formulaPerPound }: Limit, weight: Grams): Nanograms | null => {
  const amount = amountByWeight({ perKilogram: null, perPound: formulaPerPound }, weight)
  return amount === null ? null : nanograms(amount)
}

/** What the same source allows of epinephrine at this weight, rounded down; null where it prints nothing. */
export const vasoconstrictorAt = (row: Limit, weight: Grams): Nanograms | null =>
  row.vasoconstrictorPerKilogram === null
    ? null
    : nanograms(multiplyDivide(row.vasoconstrictorPerKilogram, weight, 1000))

/** AAPD: under six months every maximum is lowered by 30 %. (MEMORY) */
export const INFANT_MONTHS = 6
export const reduceForInfant = (amount: Nanograms): Nanograms => nanograms(multiplyDivide(amount, 70, 100))

/** Most of a vasoconstrictor at one appointment. The figures are for adults. */
export const CEILING_STATES = ['healthy', 'cardiac', 'unknown'] as const
export type CeilingState = (typeof CEILING_STATES)[number]

export const VASOCONSTRICTOR_CEILINGS: Record<
  'epinephrine' | 'levonordefrin',
  Record<'healthy' | 'cardiac', { value: Nanograms; source: Source }>
> = {
  epinephrine: {
    healthy: { value: nanograms(200_000), source: CE_547 },
    cardiac: {
      value: nanograms(40_000),
      source: read('teaching pages on epinephrine and the heart (low authority)'),
    },
  },
  levonordefrin: {
    healthy: { value: nanograms(1_000_000), source: CE_547 },
    cardiac: { value: nanograms(200_000), source: memory('Malamed, Handbook of Local Anesthesia') },
  },
}

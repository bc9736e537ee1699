import type { Agent, LimitProfileId, Vasoconstrictor } from '#shared/anaesthesia/anaesthetic.ts'
import { FROM_ABROAD } from './examples-from-abroad.ts'
import { OF_LABELS } from './examples-of-labels.ts'
import { OF_REVIEWS } from './examples-of-reviews.ts'
import type { WorkedExample } from './worked-example.ts'

/** Every printed example, W1 to W30; two of them are told in words beside these. */
export const WORKED: readonly WorkedExample[] = [...OF_REVIEWS, ...OF_LABELS, ...FROM_ABROAD]

/** How an example is put to the product's own limits. */
export interface Put {
  id: string
  profile: LimitProfileId
  agent: Agent
  ageYears: number
  /** Where the example gives none. */
  kilograms?: number
  vasoconstrictor?: Vasoconstrictor
  ratio?: number
  /** Where our profile prints milligrams per kilogram and the example counts 3.2 mg/lb, tenths differ and wholes agree. */
  compare?: 'whole'
  /** The example is the label's table: its tenths are the maximum shown; beyond the label's formula the dentist is asked. */
  byTable?: true
}
const plain = { vasoconstrictor: 'none' } as const
const thin = { ratio: 200_000 } as const
const grown = { ageYears: 40, kilograms: 70 } as const

export const PUT: readonly Put[] = [
  { id: 'W1', profile: 'LOWER-MRD', agent: 'lidocaine', ageYears: 40 },
  { id: 'W2', profile: 'CANADA', agent: 'lidocaine', ageYears: 40, ...plain, compare: 'whole' },
  { id: 'W3', profile: 'US-LABEL', agent: 'lidocaine', ageYears: 40 },
  { id: 'W4', profile: 'TEXTBOOK-MFR', agent: 'articaine', ageYears: 40, ...thin, compare: 'whole' },
  { id: 'W5', profile: 'TEXTBOOK-MFR', agent: 'articaine', ageYears: 40 },
  { id: 'W6', profile: 'US-LABEL', agent: 'articaine', ageYears: 40, ...thin },
  { id: 'W7', profile: 'CE-547', agent: 'articaine', ...grown, ...thin },
  { id: 'W8', profile: 'CANADA', agent: 'lidocaine', ageYears: 7 },
  { id: 'W9', profile: 'AUS-V3', agent: 'lidocaine', ageYears: 40 },
  { id: 'W10', profile: 'AUS-OLDER', agent: 'lidocaine', ageYears: 40, ...plain },
  { id: 'W11', profile: 'AUS-OLDER', agent: 'mepivacaine', ageYears: 40, ...plain },
  { id: 'W12a', profile: 'AUS-OLDER', agent: 'prilocaine', ageYears: 40, ...plain },
  { id: 'W12b', profile: 'AUS-OLDER', agent: 'prilocaine', ageYears: 40, vasoconstrictor: 'felypressin' },
  { id: 'W13', profile: 'AUS-OLDER', agent: 'mepivacaine', ageYears: 40 },
  { id: 'W14', profile: 'AUS-OLDER', agent: 'articaine', ageYears: 40 },
  { id: 'W15', profile: 'AUS-OLDER', agent: 'bupivacaine', ageYears: 40, ...thin },
  { id: 'W16', profile: 'AAPD-2023', agent: 'lidocaine', ageYears: 8 },
  { id: 'W17', profile: 'CANADA', agent: 'lidocaine', ageYears: 40, ...plain },
  {
    id: 'W18a',
    profile: 'US-LABEL',
    agent: 'mepivacaine',
    ageYears: 16,
    kilograms: 70,
    vasoconstrictor: 'levonordefrin',
    ratio: 20_000,
  },
  { id: 'W18b', profile: 'US-LABEL', agent: 'mepivacaine', ageYears: 16, kilograms: 70, ...plain },
  { id: 'W19a', profile: 'US-LABEL', agent: 'mepivacaine', ageYears: 1, ...plain, byTable: true },
  {
    id: 'W19b',
    profile: 'US-LABEL',
    agent: 'mepivacaine',
    ageYears: 1,
    vasoconstrictor: 'levonordefrin',
    ratio: 20_000,
    byTable: true,
  },
  { id: 'W20a', profile: 'US-LABEL', agent: 'mepivacaine', ageYears: 3, ...plain, byTable: true },
  {
    id: 'W20b',
    profile: 'US-LABEL',
    agent: 'mepivacaine',
    ageYears: 3,
    vasoconstrictor: 'levonordefrin',
    ratio: 20_000,
    byTable: true,
  },
  // The same label's table allows more; what the dentist is not asked about ends at the formula.
  { id: 'W21', profile: 'US-LABEL', agent: 'mepivacaine', ageYears: 7, ...plain },
  { id: 'W22', profile: 'US-LABEL', agent: 'lidocaine', ageYears: 5, kilograms: 22.68 },
  { id: 'W23', profile: 'CE-547', agent: 'lidocaine', ...grown },
  { id: 'W24', profile: 'CE-547', agent: 'lidocaine', ...grown },
  { id: 'W25', profile: 'CE-547', agent: 'articaine', ...grown },
  { id: 'W26a', profile: 'CE-547', agent: 'prilocaine', ...grown },
  {
    id: 'W26b',
    profile: 'CE-547',
    agent: 'mepivacaine',
    ...grown,
    vasoconstrictor: 'levonordefrin',
  },
  { id: 'W28', profile: 'US-LABEL', agent: 'articaine', ageYears: 40 },
  { id: 'W30a', profile: 'US-LABEL', agent: 'prilocaine', ageYears: 40, ...plain },
  { id: 'W30b', profile: 'US-LABEL', agent: 'prilocaine', ageYears: 40, ...plain },
]

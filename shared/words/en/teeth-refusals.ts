import type { Sentences } from '../../base/rule.ts'
import type { TeethFinding } from '../../teeth/findings.ts'
import { sayConditions } from './teeth.ts'

export const TEETH_REFUSALS = {
  'mouth/contradicts-itself': {
    says: ({ tooth, conditions }) =>
      `${tooth} cannot be ${sayConditions(conditions)} at once. A plan would count on it wrongly. Choose one.`,
    desk: null,
  },
  'mouth/width-unlikely': {
    says: ({ tooth, tenthsOfMm, tableTenths }) =>
      `${tooth} measured ${tenthsOfMm / 10} mm; the table gives ${tableTenths / 10} mm. A sheet scaled by it would not fit. Measure again.`,
    desk: null,
  },
  'mouth/span-not-there': {
    says: ({ tooth, to }) =>
      `${tooth} to ${to} is no row of standing teeth in one jaw. Its length says nothing of the arch. Choose two standing teeth of one jaw.`,
    desk: null,
  },
  'mouth/no-patient': {
    says: () =>
      'This appointment has no patient we hold, so there is no mouth to chart. Name the patient first.',
    desk: () => 'Name the patient of this appointment',
  },
} satisfies Partial<Sentences<TeethFinding>>

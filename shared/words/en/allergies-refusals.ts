import type { AllergyFinding } from '../../allergies/findings.ts'
import type { Sentences } from '../../base/rule.ts'
import { nameOf } from './allergies.ts'

export const ALLERGY_REFUSALS = {
  'allergies/would-lower': {
    says: ({ substance }) =>
      `${nameOf(substance)} is suspected or confirmed. An answer does not undo that. A clinician clears it, with a reason.`,
    desk: null,
  },
  'allergies/none-but-listed': {
    says: ({ substances }) =>
      `“None” was answered, but the record lists ${substances.join(', ')}. Both cannot be right. Have it cleared by a clinician, or keep it.`,
    desk: null,
  },
  'allergies/contradicts-record': {
    says: () =>
      'This answer contradicts what is recorded. Nothing was changed. Give the form to the assistant or the dentist.',
    desk: () =>
      'This answer contradicts what is recorded. Nothing was changed. Give the form to the assistant or the dentist.',
  },
  'allergies/nothing-to-clear': {
    says: ({ substance }) => `${nameOf(substance)} is not listed. Nothing was changed.`,
    desk: null,
  },
  'allergies/patient-unknown': {
    says: () => 'This patient is not here. Nothing was recorded. Open the appointment again.',
    desk: null,
  },
} satisfies Partial<Sentences<AllergyFinding>>

import type { Sentences } from '../../base/rule.ts'
import type { ImportFinding } from '../../schedule/import-findings.ts'

export const IMPORT_SENTENCES = {
  'import/tray-carried': {
    says: () =>
      'The visit was cancelled and booked again today: its tray came over with its claim. See that it still fits.',
    desk: null,
  },
  'import/allergy-kept': {
    says: ({ text }) =>
      `The last import no longer states this allergy as before: "${text}". What is known here is kept until a clinician clears it.`,
    desk: null,
  },
} satisfies Partial<Sentences<ImportFinding>>

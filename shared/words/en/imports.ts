import type { Sentences } from '../../base/rule.ts'
import type { ImportFinding } from '../../schedule/import-findings.ts'

export const IMPORT_SENTENCES = {
  'import/tray-released': {
    says: () =>
      'A list has cancelled this visit: its tray, already begun, was given back. Tell whoever began it, and put away what is laid out.',
    desk: () => 'A visit whose tray was begun is cancelled. Tell the assistant.',
  },
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

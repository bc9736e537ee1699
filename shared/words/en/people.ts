import type { Sentences } from '../../base/rule.ts'
import type { StartLine } from '../../people/clinic.ts'
import type { NameAlertKind, PeopleFinding } from '../../people/findings.ts'

const ALERTS: Record<NameAlertKind, string> = {
  'same-name': 'has the same name',
  'similar-name': 'has a similar name',
  'same-birth-day': 'was born on the same day',
  'sibling-next': 'has the same family name and comes next',
}

/** The same is true for chair and desk: it is about people or rooms, not about a mouth. */
export const both = <F>(sentence: (finding: F) => string) => ({ says: sentence, desk: sentence })

export const START_LINE_WORDS: Record<StartLine, string> = {
  oxygen: 'Oxygen',
  'emergency-kit': 'The emergency kit without latex',
}

export const PEOPLE_SENTENCES = {
  'site/not-looked-over': {
    says: ({ line }) => `${START_LINE_WORDS[line]} has not been looked at today.`,
    desk: null,
  },
  'site/not-in-order': {
    says: ({ line }) =>
      `${START_LINE_WORDS[line]} is not in order: the dentist decides whether anybody is treated before it is.`,
    desk: null,
  },
  'name/alert': both(({ kind }) => `Name alert: another patient of today ${ALERTS[kind]}.`),
} satisfies Partial<Sentences<PeopleFinding>>

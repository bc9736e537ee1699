import type { Sentences } from '../../base/rule.ts'
import type { NameAlertKind, PeopleFinding } from '../../people/findings.ts'

const ALERTS: Record<NameAlertKind, string> = {
  'same-name': 'has the same name',
  'similar-name': 'has a similar name',
  'same-birth-day': 'was born on the same day',
  'sibling-next': 'has the same family name and comes next',
}

/** The same is true for chair and desk: it is about people or rooms, not about a mouth. */
export const both = <F>(sentence: (finding: F) => string) => ({ says: sentence, desk: sentence })

export const PEOPLE_SENTENCES = {
  'name/alert': both(({ kind }) => `Name alert: another patient of today ${ALERTS[kind]}.`),
} satisfies Partial<Sentences<PeopleFinding>>

import type { Sentences } from '../../base/rule.ts'
import type { JournalFinding } from '../../journal/findings.ts'

const both = <F>(sentence: (finding: F) => string) => ({ says: sentence, desk: sentence })

export const JOURNAL_REFUSALS = {
  'undo/no-entry': both(({ revision }) => `There is no step ${revision} that could be undone.`),
  'undo/not-this': both(() => 'This step cannot be undone: others rest on it.'),
  'undo/moved-since': both(({ facts }) =>
    facts === 1
      ? 'What this step changed has been changed again since: undo the later step first.'
      : `${facts} things this step changed have been changed again since: undo the later steps first.`,
  ),
} satisfies Partial<Sentences<JournalFinding>>

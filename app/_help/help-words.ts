import type { HelpKind, HelpOutcome } from '#shared/readiness/help.ts'

/** What is touched to call help. */
export const CALL_WORDS: Record<HelpKind, string> = {
  'lost-clamp': 'Clamp or fragment lost',
  'bleach-on-tissue': 'Bleach on tissue',
  'anaesthetic-reaction': 'Reaction to the anaesthetic',
  collapse: 'Collapse',
  'taste-or-burn': 'Taste or burning',
}

/** How it ended, as the dentist says it. */
export const OUTCOME_WORDS: Record<HelpOutcome, string> = {
  found: 'Found, and complete',
  settled: 'Settled here',
  referred: 'Patient referred',
  'handed-over': 'Handed over to others',
}

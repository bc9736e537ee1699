import type { Sentences } from '../base/rule.ts'
import type { Finding } from '../finding.ts'
import { ALLERGY_REFUSALS } from './en/allergies-refusals.ts'
import { ANAESTHESIA_REFUSALS } from './en/anaesthesia-refusals.ts'
import { IMPORT_REFUSALS } from './en/imports-refusals.ts'
import { ISOLATION_REFUSALS } from './en/isolation-refusals.ts'
import { JOURNAL_REFUSALS } from './en/journal-refusals.ts'
import { PEOPLE_REFUSALS } from './en/people-refusals.ts'
import { PROCEDURE_REFUSALS } from './en/procedures-refusals.ts'
import { READINESS_REFUSALS } from './en/readiness-refusals.ts'
import { SCHEDULE_REFUSALS } from './en/schedule-refusals.ts'
import { STERILITY_REFUSALS } from './en/sterility-refusals.ts'
import { TEETH_REFUSALS } from './en/teeth-refusals.ts'
import { PLANK_SENTENCES, type Sentence } from './planks.ts'

/** Every rule's sentences, by the rule's name. */
export const SENTENCES: Sentences<Finding> = {
  ...PLANK_SENTENCES,
  ...TEETH_REFUSALS,
  ...PROCEDURE_REFUSALS,
  ...ISOLATION_REFUSALS,
  ...ANAESTHESIA_REFUSALS,
  ...ALLERGY_REFUSALS,
  ...STERILITY_REFUSALS,
  ...SCHEDULE_REFUSALS,
  ...IMPORT_REFUSALS,
  ...PEOPLE_REFUSALS,
  ...READINESS_REFUSALS,
  ...JOURNAL_REFUSALS,
}

const sentenceOf = (finding: Finding): Sentence => SENTENCES[finding.rule] as unknown as Sentence

/** A finding in words, for those at the chair. */
export const say = (finding: Finding): string => sentenceOf(finding).says(finding)
/** The same as a task for the desk, or null where the desk is told nothing. */
export const sayToDesk = (finding: Finding): string | null => sentenceOf(finding).desk?.(finding) ?? null

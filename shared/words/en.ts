import type { Sentences } from '../base/rule.ts'
import type { Finding } from '../finding.ts'
import { ALLERGY_SENTENCES } from './en/allergies.ts'
import { ANAESTHESIA_SENTENCES } from './en/anaesthesia.ts'
import { IMPORT_SENTENCES } from './en/imports.ts'
import { ISOLATION_SENTENCES } from './en/isolation.ts'
import { JOURNAL_SENTENCES } from './en/journal.ts'
import { PEOPLE_SENTENCES } from './en/people.ts'
import { PROCEDURE_SENTENCES } from './en/procedures.ts'
import { READINESS_SENTENCES } from './en/readiness.ts'
import { SCHEDULE_SENTENCES } from './en/schedule.ts'
import { STERILITY_SENTENCES } from './en/sterility.ts'
import { TEETH_SENTENCES } from './en/teeth.ts'
import { TRAY_SENTENCES } from './en/trays.ts'

/** Every rule's sentences, by the rule's name. */
export const SENTENCES: Sentences<Finding> = {
  ...TEETH_SENTENCES,
  ...PROCEDURE_SENTENCES,
  ...ISOLATION_SENTENCES,
  ...ANAESTHESIA_SENTENCES,
  ...ALLERGY_SENTENCES,
  ...TRAY_SENTENCES,
  ...STERILITY_SENTENCES,
  ...SCHEDULE_SENTENCES,
  ...IMPORT_SENTENCES,
  ...PEOPLE_SENTENCES,
  ...READINESS_SENTENCES,
  ...JOURNAL_SENTENCES,
}

type Sentence = { says: (finding: Finding) => string; desk: ((finding: Finding) => string) | null }
const sentenceOf = (finding: Finding): Sentence => SENTENCES[finding.rule] as unknown as Sentence

/** A finding in words, for those at the chair. */
export const say = (finding: Finding): string => sentenceOf(finding).says(finding)
/** The same as a task for the desk, or null where the desk is told nothing. */
export const sayToDesk = (finding: Finding): string | null => sentenceOf(finding).desk?.(finding) ?? null

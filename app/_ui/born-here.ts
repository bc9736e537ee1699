import type { Seen } from '#app/_live/seen.ts'
import { bornWords } from './time-words.ts'

/** The birth day in words; while it is what is asked of the patient, it is not read off the page. */
export const bornHere = ({ facts, readiness }: Pick<Seen, 'facts' | 'readiness'>): string =>
  facts.visit !== null && readiness.line.stage !== 'expected' && !facts.visit.identity && facts.patient?.born
    ? 'birth date to be asked'
    : bornWords(facts.patient?.born ?? null)

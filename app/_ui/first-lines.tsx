import type { Seen } from '#app/_live/seen.ts'
import type { TakenOver } from '#shared/readiness/taken-over.ts'
import type { DentistChange } from '#shared/schedule/appointment.ts'
import { say } from '#shared/words/en.ts'
import { allergyWords } from './allergy-words.ts'
import styles from './first-lines.module.css'
import { timeOf } from './time-words.ts'

const CHANGE_WORDS: Record<DentistChange, string> = {
  away: 'is away',
  'by-hand': 'was to treat',
  listed: 'was to treat, by an earlier list',
}

/** What is read first of a patient whom another dentist was to treat. */
export function FirstLines({
  seen,
  taken,
}: {
  seen: Pick<Seen, 'facts' | 'nameOf' | 'zone'>
  taken: TakenOver
}) {
  const { former, needsWord, clampTrouble, notes } = taken
  const { dentist } = seen.facts
  return (
    <>
      <p>
        {seen.nameOf(former.memberId)} {CHANGE_WORDS[former.why]}; changed {timeOf(former.since, seen.zone)}{' '}
        by {seen.nameOf(former.by)}.{' '}
        {needsWord ? (
          <strong>
            The plan needs {dentist ? `${dentist.shortName}’s` : 'the new dentist’s'} confirmation.
          </strong>
        ) : null}
      </p>
      <dl className={styles.lines}>
        <div>
          <dt>Allergies</dt>
          <dd>{allergyWords(seen)}</dd>
        </div>
        <div>
          <dt>Clamps before</dt>
          <dd>{clampTrouble.length === 0 ? 'no trouble recorded' : clampTrouble.map(say).join(' ')}</dd>
        </div>
        <div>
          <dt>Open notes</dt>
          <dd>{notes.length === 0 ? 'none' : notes.join(' · ')}</dd>
        </div>
      </dl>
    </>
  )
}

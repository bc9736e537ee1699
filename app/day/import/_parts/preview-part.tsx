import { Button } from '#app/_ui/button.tsx'
import { Card } from '#app/_ui/card.tsx'
import { dayWords } from '#app/_ui/time-words.ts'
import type { Preview } from '#server/trpc/exchange-router.ts'
import type { ImportCounts } from '#shared/schedule/import-batch.ts'
import styles from '../../_parts/day.module.css'

const COUNT_WORDS: { count: keyof ImportCounts; words: string }[] = [
  { count: 'new', words: 'new' },
  { count: 'changed', words: 'changed' },
  { count: 'cancelled', words: 'cancelled' },
  { count: 'unchanged', words: 'unchanged' },
  { count: 'older', words: 'older than what is known: left as it is' },
  { count: 'vanished', words: 'no longer listed: to be asked, not dropped' },
  { count: 'problems', words: 'to be settled' },
]

export interface PreviewPartProps {
  preview: Preview
  busy: boolean
  taken: boolean
  onTake: () => void
}

/** What the file would do, and every row that cannot be taken. */
export function PreviewPart({ preview, busy, taken, onTake }: PreviewPartProps) {
  return (
    <Card title={taken ? 'Read in' : 'What it would do'}>
      <ul className={styles.counts}>
        {COUNT_WORDS.map(({ count, words }) => (
          <li key={count}>
            <strong>{preview.counts[count] ?? 0}</strong> {words}
          </li>
        ))}
      </ul>
      {preview.assumed.map((text) => (
        <p key={text} className={styles.small}>
          {text}
        </p>
      ))}
      {preview.vanished.length > 0 ? <VanishedList vanished={preview.vanished} taken={taken} /> : null}
      {preview.problems.length > 0 ? (
        <details open={preview.problems.length < 20}>
          <summary className={styles.more}>
            {preview.problems.length} rows cannot be taken as they stand
          </summary>
          <ul className={styles.rows}>
            {preview.problems.map((problem, index) => (
              <li key={`${problem.line} ${problem.field} ${index}`} className={styles.problem}>
                <strong>
                  Line {problem.line}, {problem.field}
                </strong>
                <p>{problem.text}</p>
                <code>{problem.original}</code>
              </li>
            ))}
          </ul>
        </details>
      ) : null}
      {preview.passedOver.length > 0 ? <PassedOverList passedOver={preview.passedOver} /> : null}
      {taken ? (
        <p>Done. Rows that could not be taken wait below with their own words.</p>
      ) : (
        <div className={styles.acts}>
          <Button size="main" tone="ink" isDisabled={busy} onPress={onTake}>
            Read it in
          </Button>
        </div>
      )}
    </Card>
  )
}

/** What stands in the file and is no appointment, so that every line of it is accounted for. */
function PassedOverList({ passedOver }: { passedOver: Preview['passedOver'] }) {
  const rows = passedOver.reduce((sum, each) => sum + (each.rows ?? 1), 0)
  return (
    <details>
      <summary className={styles.more}>
        {rows === 1 ? 'One line is' : `${rows} lines are`} passed over
      </summary>
      <ul className={styles.rows}>
        {passedOver.slice(0, PASSED_OVER_SHOWN).map(({ line, why, rows: alike = 1 }) => (
          <li key={`${line} ${why}`} className={styles.known}>
            <strong>Line {line}</strong>
            <span>
              {why}
              {alike > 1 ? `, and ${alike - 1} more` : ''}
            </span>
          </li>
        ))}
        {passedOver.length > PASSED_OVER_SHOWN ? (
          <li className={styles.known}>and {passedOver.length - PASSED_OVER_SHOWN} more</li>
        ) : null}
      </ul>
    </details>
  )
}
const PASSED_OVER_SHOWN = 50

/** Who is no longer listed, so that whoever reads the file in can ask before it is taken. */
function VanishedList({ vanished, taken }: { vanished: Preview['vanished']; taken: boolean }) {
  return (
    <details open={vanished.length < 20}>
      <summary className={styles.more}>
        {vanished.length === 1 ? 'One appointment is' : `${vanished.length} appointments are`} no longer
        listed{taken ? ': each is asked on the day' : ', and would be asked on the day'}
      </summary>
      <ul className={styles.rows}>
        {vanished.map(({ appointmentId, day, startsAt, operatory, patient }) => (
          <li key={appointmentId} className={styles.known}>
            <strong>{patient ? `${patient.given} ${patient.family}` : 'Patient not known here'}</strong>
            <span>
              {dayWords(day)}, {startsAt}, {operatory ? `operatory ${operatory}` : 'no operatory yet'}
            </span>
          </li>
        ))}
      </ul>
    </details>
  )
}

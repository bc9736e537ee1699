import { Button } from '#app/_ui/button.tsx'
import { Card } from '#app/_ui/card.tsx'
import type { ImportCounts } from '#shared/schedule/import-batch.ts'
import styles from '../../_parts/day.module.css'
import type { Preview } from './bring.ts'

const COUNT_WORDS: { count: keyof ImportCounts; words: string }[] = [
  { count: 'new', words: 'new' },
  { count: 'changed', words: 'changed' },
  { count: 'cancelled', words: 'cancelled' },
  { count: 'unchanged', words: 'unchanged' },
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
            <strong>{preview.counts[count]}</strong> {words}
          </li>
        ))}
      </ul>
      {preview.assumed.map((text) => (
        <p key={text} className={styles.small}>
          {text}
        </p>
      ))}
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

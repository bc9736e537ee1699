import type { Zone } from '#shared/base/moment.ts'
import type { ShortSet } from '#shared/words/short-sets.ts'
import { operatoryWords } from './labels.ts'
import list from './list.module.css'
import { Mark } from './mark.tsx'
import styles from './short-list.module.css'
import { timeOf } from './time-words.ts'

/** Appointments of the day that find too few sets, the first in sight and the others folded; nothing where none does. */
export function ShortList({ short, zone }: { short: readonly ShortSet[]; zone: Zone }) {
  const [first, ...others] = short
  if (!first) return null
  return (
    <section aria-label="Sets run short" className={styles.short}>
      <Mark of="ask" words="Sets run short" />
      <Line line={first} zone={zone} />
      {others.length > 0 ? (
        <details className={styles.others}>
          <summary className={list.more}>{others.length} more later</summary>
          <ul>
            {others.map((line) => (
              <li key={`${line.appointmentId} ${line.says}`}>
                <Line line={line} zone={zone} />
              </li>
            ))}
          </ul>
        </details>
      ) : null}
    </section>
  )
}

const Line = ({ line, zone }: { line: ShortSet; zone: Zone }) => (
  <p>
    <strong>
      {timeOf(line.at, zone)} {operatoryWords(line.operatory)}
    </strong>{' '}
    {line.says}
  </p>
)

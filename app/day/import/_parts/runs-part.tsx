import { Card } from '#app/_ui/card.tsx'
import { dayWords, timeOf } from '#app/_ui/time-words.ts'
import { dayOf, type Zone } from '#shared/base/moment.ts'
import type { ImportBatch } from '#shared/schedule/import-batch.ts'
import styles from '../../_parts/day.module.css'

/** Files that were read in, each to be had again as it came. */
export function RunsPart({ runs, zone }: { runs: ImportBatch[]; zone: Zone }) {
  return (
    <Card title="Read in lately">
      {runs.length === 0 ? <p className={styles.small}>None.</p> : null}
      <ul className={styles.rows}>
        {runs.map(({ id, at, fileName, counts }) => (
          <li key={id} className={styles.known}>
            <span>
              {dayWords(dayOf(at, zone))}, {timeOf(at, zone)}: {counts.new} new, {counts.changed} changed,{' '}
              {counts.cancelled} cancelled, {counts.problems} to be settled
            </span>
            <a href={`/api/import/original?batch=${id}`} download>
              {fileName} as it came
            </a>
          </li>
        ))}
      </ul>
    </Card>
  )
}

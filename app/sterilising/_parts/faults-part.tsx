import { dateWords } from '#app/_ui/time-words.ts'
import type { FaultCount } from '#shared/trays/fault-count.ts'
import { KIND_WORDS } from '#shared/words/en/sterility.ts'
import styles from './sterilising.module.css'

const nameOf = (of: string): string =>
  Object.hasOwn(KIND_WORDS, of) ? KIND_WORDS[of as keyof typeof KIND_WORDS] : of.replaceAll('-', ' ')

/** For the weekly review: what came to a tray and did not count, by kind and reason. */
export function FaultsPart({ faults }: { faults: readonly FaultCount[] }) {
  return (
    <section aria-labelledby="faults">
      <h2 id="faults">Faults found on trays</h2>
      {faults.length === 0 ? <p>None in the last eight weeks.</p> : null}
      {faults.length === 0 ? null : (
        <div className={styles.tableOf}>
          <table className={styles.table}>
            <thead>
              <tr>
                <th scope="col">Week of</th>
                <th scope="col">What</th>
                <th scope="col">Why it did not count</th>
                <th scope="col">How often</th>
              </tr>
            </thead>
            <tbody>
              {faults.map(({ monday, of, why, count }) => (
                <tr key={`${monday} ${of} ${why}`}>
                  <td>{dateWords(monday)}</td>
                  <td>{nameOf(of)}</td>
                  <td>{why}</td>
                  <td>{count}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </section>
  )
}

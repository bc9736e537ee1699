import { dateWords } from '#app/_ui/time-words.ts'
import { NEVER } from '#shared/base/rule.ts'
import { WHY_NEVER } from '#shared/readiness/override.ts'
import type { OverrideCount } from '#shared/readiness/override-count.ts'
import styles from './settings.module.css'

/** How often each rule was passed over, week by week; what is passed over more often than answered is named first. */
export function OverridesPart({ overrides }: { overrides: OverrideCount[] }) {
  const often = overrides.filter((each) => each.often)
  return (
    <>
      <section aria-labelledby="often" className={styles.part}>
        <h2 id="often">Passed over more than half the time</h2>
        {often.length === 0 ? <p>No rule, in the last eight weeks.</p> : null}
        <ul className={styles.list}>
          {often.map(({ monday, rule, overridden, answered }) => (
            <li key={`${monday} ${rule}`} className={styles.often}>
              <code>{rule}</code> in the week of {dateWords(monday)}: passed over on {overridden} of{' '}
              {overridden + answered} appointments. Either the rule asks too much, or something is not done:
              look which.
            </li>
          ))}
        </ul>
      </section>
      <section aria-labelledby="counted" className={styles.part}>
        <h2 id="counted">Overrides by week and rule</h2>
        {overrides.length === 0 ? <p>None in the last eight weeks.</p> : <Counted overrides={overrides} />}
        <p className={styles.small}>
          Counted from the journal. An appointment counts once; “answered” are appointments on which a command
          that answers the rule was carried out instead.
        </p>
      </section>
      <section aria-labelledby="never" className={styles.part}>
        <h2 id="never">Never passed over</h2>
        <ul className={styles.list}>
          {NEVER.map((kind) => (
            <li key={kind}>{WHY_NEVER[kind]}</li>
          ))}
        </ul>
        <p className={styles.small}>
          Each of these is a guess about a person, a tooth or a tray, and the needle cannot be taken back.
          Nobody can pass over them, whatever the reason.
        </p>
      </section>
    </>
  )
}

function Counted({ overrides }: { overrides: OverrideCount[] }) {
  return (
    <table className={styles.table}>
      <thead>
        <tr>
          <th scope="col">Week of</th>
          <th scope="col">Rule</th>
          <th scope="col">Passed over</th>
          <th scope="col">Answered</th>
        </tr>
      </thead>
      <tbody>
        {overrides.map(({ monday, rule, overridden, answered }) => (
          <tr key={`${monday} ${rule}`}>
            <td>{dateWords(monday)}</td>
            <td>
              <code>{rule}</code>
            </td>
            <td>{overridden}</td>
            <td>{answered}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

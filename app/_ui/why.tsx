import type { Source } from '#shared/base/source.ts'
import styles from './why.module.css'

const MARK_WORDS: Record<Source['mark'], string> = {
  READ: 'read in the text',
  MEMORY: 'known from this work, to be checked against print',
  COMMON: 'common practice, no published source; the clinic may change it',
}

/** "Why?": the rule's name and where it stands, on touch. */
export function Why({ rule, source }: { rule: string; source: Source }) {
  return (
    <details className={styles.why} name="why">
      <summary className={styles.ask}>why</summary>
      <p className={styles.source}>
        <code>{rule}</code>
        {source.where ? <span>{source.where}</span> : null}
        <span>{MARK_WORDS[source.mark]}</span>
      </p>
    </details>
  )
}

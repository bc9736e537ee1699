import type { Finding } from '#shared/finding.ts'
import { RULES } from '#shared/rules.ts'
import { ACTOR_WORDS } from '#shared/words/en/states.ts'
import { say } from '#shared/words/en.ts'
import styles from './finding-line.module.css'
import { Why } from './why.tsx'

/** A finding in words, who is next to act, and where its rule stands. */
export function FindingLine({ finding, quiet = false }: { finding: Finding; quiet?: boolean }) {
  const rule = RULES[finding.rule]
  return (
    <div className={styles.finding} data-level={quiet ? 'note' : finding.level}>
      <p className={styles.says}>{say(finding)}</p>
      <div className={styles.aside}>
        {finding.level === 'note' ? null : <span>{ACTOR_WORDS[rule.next]} next</span>}
        <Why rule={finding.rule} source={rule.source} />
      </div>
    </div>
  )
}

import type { JudgedLane } from '#shared/readiness/board-types.ts'
import { WAITS_FOR_DENTIST } from '#shared/words/en/states.ts'
import { operatoryWords } from './labels.ts'
import styles from './waiting-line.module.css'

/** Chairs that wait for the dentist, in letters read from two metres, without a name. */
export function WaitingLine({ lanes }: { lanes: readonly Pick<JudgedLane, 'name' | 'now'>[] }) {
  const waiting = lanes.filter(({ now }) => now?.says === WAITS_FOR_DENTIST)
  if (waiting.length === 0) return null
  return (
    <p className={styles.waiting} role="status">
      {waiting.map(({ name }) => operatoryWords(name)).join(', ')}: {waiting.length === 1 ? 'waits' : 'wait'}{' '}
      for the dentist
    </p>
  )
}

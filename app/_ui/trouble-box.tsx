import type { Trouble } from '#app/_live/trouble.ts'
import styles from './trouble-box.module.css'

/** An error in its three parts. */
export function TroubleBox({ trouble }: { trouble: Trouble }) {
  return (
    <div className={styles.box} role="alert">
      <strong>{trouble.what}</strong>
      <p>{trouble.why}</p>
      <p>{trouble.todo}</p>
    </div>
  )
}

import styles from './caution-line.module.css'

/** Stands on every clinical page. */
export function CautionLine() {
  return (
    <p className={styles.caution}>
      An aid to licensed practice. Local rules, the makers’ instructions and the dentist’s judgement come
      first.
    </p>
  )
}

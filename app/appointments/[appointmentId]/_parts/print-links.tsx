import type { Seen } from '#app/_live/seen.ts'
import styles from './plan.module.css'

const PAPERS = [
  { paper: 'a4', words: 'A4' },
  { paper: 'letter', words: 'Letter' },
] as const

/** The sheet at true size on paper, with a ruler on it to prove that the printer kept the size. */
export function PrintLinks({ seen }: { seen: Seen }) {
  return (
    <p className={styles.choices}>
      {PAPERS.map(({ paper, words }) => (
        <a
          key={paper}
          className={styles.more}
          href={`/api/print/punch-template?${new URLSearchParams({ appointment: seen.facts.appointment.id, paper })}`}
          target="_blank"
          rel="noreferrer"
        >
          Print the punch template, {words}
        </a>
      ))}
    </p>
  )
}

import type { Seen } from '#app/_live/seen.ts'
import styles from './plan.module.css'

const PAPERS = [
  { paper: 'a4', words: 'A4' },
  { paper: 'letter', words: 'Letter' },
] as const
const PRINTED = [
  { path: 'punch-template', words: 'Print the punch template' },
  { path: 'tray-card', words: 'Print the tray card' },
] as const

/** The sheet at true size on paper, with a ruler on it to prove that the printer kept the size; and the tray's card. */
export function PrintLinks({ seen }: { seen: Seen }) {
  const shown = PRINTED.filter(({ path }) => path !== 'tray-card' || seen.facts.tray !== null)
  return shown.map(({ path, words: what }) => (
    <p key={path} className={styles.choices}>
      {PAPERS.map(({ paper, words }) => (
        <a
          key={paper}
          className={styles.more}
          href={`/api/print/${path}?${new URLSearchParams({ appointment: seen.facts.appointment.id, paper })}`}
          target="_blank"
          rel="noreferrer"
        >
          {what}, {words}
        </a>
      ))}
    </p>
  ))
}

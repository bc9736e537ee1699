import type { AppointmentId } from '#shared/ids.ts'
import styles from './list.module.css'

const PAPERS = [
  { paper: 'a4', words: 'A4' },
  { paper: 'letter', words: 'Letter' },
] as const
const PRINTED = {
  'punch-template': 'Print the punch template',
  'tray-card': 'Print the tray card',
} as const

interface PrintLinksProps {
  what: keyof typeof PRINTED
  appointmentId: AppointmentId
}

/** On paper at true size: the sheet with a ruler to prove that the printer kept it, or the tray's card with its code. */
export function PrintLinks({ what, appointmentId }: PrintLinksProps) {
  return (
    <p className={styles.acts}>
      {PAPERS.map(({ paper, words }) => (
        <a
          key={paper}
          className={styles.more}
          href={`/api/print/${what}?${new URLSearchParams({ appointment: appointmentId, paper })}`}
          target="_blank"
          rel="noreferrer"
        >
          {PRINTED[what]}, {words}
        </a>
      ))}
    </p>
  )
}

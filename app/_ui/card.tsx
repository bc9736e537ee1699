import { type ReactNode, useId } from 'react'
import styles from './card.module.css'

/** A part of a page under one heading. */
export function Card({ title, children, tone }: { title: string; children: ReactNode; tone?: 'plain' }) {
  const id = useId()
  return (
    <section aria-labelledby={id} className={styles.card} data-tone={tone}>
      <h2 id={id} className={styles.title}>
        {title}
      </h2>
      {children}
    </section>
  )
}

/** Terms and what is said of them, one line each. */
export function Rows({ children }: { children: ReactNode }) {
  return <dl className={styles.rows}>{children}</dl>
}

export function Row({ term, children }: { term: string; children: ReactNode }) {
  return (
    <div className={styles.row}>
      <dt>{term}</dt>
      <dd>{children}</dd>
    </div>
  )
}

'use client'
import { Button } from '#app/_ui/button.tsx'
import styles from './plan.module.css'

export interface CounterProps {
  label: string
  /** Null: not counted yet. */
  count: number | null
  onCount: (count: number) => void
}

/** A number counted by touch. It begins uncounted: nothing is taken as counted beforehand. */
export function Counter({ label, count, onCount }: CounterProps) {
  return (
    <fieldset className={styles.counter} aria-label={label}>
      <span>{label}</span>
      <Button onPress={() => onCount(Math.max(0, (count ?? 1) - 1))} aria-label={`${label}: one fewer`}>
        −
      </Button>
      <output aria-live="polite">{count ?? 'not counted'}</output>
      <Button onPress={() => onCount((count ?? -1) + 1)} aria-label={`${label}: one more`}>
        +
      </Button>
    </fieldset>
  )
}

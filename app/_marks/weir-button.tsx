'use client'
import { useId, useState } from 'react'
import { CHECK_WORDS, STATE_WORDS } from '#shared/words/en/states.ts'
import styles from './weir.module.css'
import { Weir, type WeirPlank } from './weir.tsx'

/** The weir, and its six words on touch and focus. */
export function WeirButton({ planks }: { planks: readonly WeirPlank[] }) {
  const [open, setOpen] = useState(false)
  const id = useId()
  return (
    <span className={styles.holder}>
      <button
        type="button"
        aria-expanded={open}
        aria-controls={id}
        onClick={() => setOpen(!open)}
        onBlur={() => setOpen(false)}
        onFocus={(event) => setOpen(event.currentTarget.matches(':focus-visible'))}
      >
        <Weir planks={planks} />
      </button>
      <span id={id} className={styles.planks} hidden={!open}>
        {planks.toReversed().map((plank) => (
          <span key={plank.check} data-state={plank.state}>
            {CHECK_WORDS[plank.check]}: {STATE_WORDS[plank.state].toLowerCase()}
            {plank.state === 'preparing' && plank.of > 0 ? ` ${plank.done} of ${plank.of}` : ''}
          </span>
        ))}
      </span>
    </span>
  )
}

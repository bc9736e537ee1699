import type { Gate } from '#shared/base/rule.ts'
import type { PlankState } from '#shared/readiness/board-types.ts'
import { GATE_WORDS, STATE_WORDS } from '#shared/words/en/states.ts'
import styles from './mark.module.css'

export interface MarkProps {
  of: PlankState
  /** For `ready`: what it is ready for. */
  gate?: Gate | null
  /** For `preparing`: the share done, 0 to 1. */
  share?: number
  /** Another word instead of the state's own. */
  words?: string
  quiet?: boolean
}

/** A state as word + shape + colour. Nothing else in the house paints readiness. */
export function Mark({ of, gate, share = 0.25, words, quiet = false }: MarkProps) {
  return (
    <span className={styles.mark} data-state={of} data-quiet={quiet || undefined}>
      <Shape of={of} share={share} />
      <span>{words ?? wordsOf(of, gate ?? null)}</span>
    </span>
  )
}

const wordsOf = (of: PlankState, gate: Gate | null): string =>
  of === 'ready' && gate ? `${STATE_WORDS.ready} ${GATE_WORDS[gate]}` : STATE_WORDS[of]

function Shape({ of, share }: { of: PlankState; share: number }) {
  return (
    <svg viewBox="0 0 24 24" width="22" height="22" aria-hidden="true" className={styles.shape}>
      <Outline of={of} share={share} />
    </svg>
  )
}

function Outline({ of, share }: { of: PlankState; share: number }) {
  switch (of) {
    case 'ready':
      return <path d="M4 13l5 5L20 6" fill="none" stroke="currentColor" strokeWidth="3.5" />
    case 'preparing':
      return (
        <>
          <circle cx="12" cy="12" r="9.5" fill="none" stroke="currentColor" strokeWidth="2.5" />
          <path d={slice(share)} fill="currentColor" />
        </>
      )
    case 'ask':
      return (
        <>
          <path d="M12 0.8L23.2 12L12 23.2L0.8 12Z" fill="currentColor" />
          <path
            d="M9.2 9.6c0-3.6 5.6-3.6 5.6 0 0 2-2.8 2.2-2.8 4.2"
            fill="none"
            className={styles.cut}
            strokeWidth="2"
          />
          <circle cx="12" cy="16.9" r="1.3" className={styles.dot} />
        </>
      )
    case 'hold':
      return (
        <>
          <path d="M7.2 0.8h9.6L23.2 7.2v9.6L16.8 23.2H7.2L0.8 16.8V7.2Z" fill="currentColor" />
          <path d="M6 12h12" className={styles.cut} strokeWidth="3.4" />
        </>
      )
    case 'later':
      return <circle cx="12" cy="12" r="9.5" fill="none" stroke="currentColor" strokeWidth="1.5" />
    case 'not-needed':
      return <path d="M4 12h16" stroke="currentColor" strokeWidth="2" strokeDasharray="2 3.3" />
  }
}

/** A slice of a 7-unit disc from twelve o'clock, clockwise. A whole disc is drawn as two halves. */
function slice(share: number): string {
  const part = Math.min(0.999, Math.max(0.06, share))
  const angle = part * 2 * Math.PI
  const x = (12 + 7 * Math.sin(angle)).toFixed(2)
  const y = (12 - 7 * Math.cos(angle)).toFixed(2)
  return `M12 12V5A7 7 0 ${part > 0.5 ? 1 : 0} 1 ${x} ${y}Z`
}

import type { Check } from '#shared/base/rule.ts'
import type { PlankState } from '#shared/readiness/board-types.ts'
import { CHECK_WORDS, STATE_WORDS } from '#shared/words/en/states.ts'
import styles from './weir.module.css'

/** As much of a plank as its drawing needs. */
export interface WeirPlank {
  check: Check
  state: PlankState
  done: number
  of: number
}

const WIDE = 50
const HIGH = 6
const STEP = 9

/** The six planks between their posts, bottom to top. A companion of the words, never alone. */
export function Weir({ planks }: { planks: readonly WeirPlank[] }) {
  return (
    <svg
      viewBox="0 0 62 56"
      width="66"
      height="60"
      className={styles.weir}
      role="img"
      aria-label={spoken(planks)}
    >
      <path d="M1.5 0V56M60.5 0V56" className={styles.post} />
      {planks.map((plank, index) => (
        <g key={plank.check} data-state={plank.state} transform={`translate(6 ${48 - index * STEP})`}>
          <Board plank={plank} />
        </g>
      ))}
    </svg>
  )
}

/** The planks in words, in the order they are dropped in. */
export const spoken = (planks: readonly WeirPlank[]): string =>
  planks.map((plank) => `${CHECK_WORDS[plank.check]}: ${STATE_WORDS[plank.state].toLowerCase()}`).join(', ')

function Board({ plank }: { plank: WeirPlank }) {
  const middle = HIGH / 2
  switch (plank.state) {
    case 'ready':
      return <rect width={WIDE} height={HIGH} className={styles.solid} />
    case 'preparing':
      return (
        <>
          <rect x="0.75" y="0.75" width={WIDE - 1.5} height={HIGH - 1.5} className={styles.outline} />
          <rect width={WIDE * shareOf(plank)} height={HIGH} className={styles.solid} />
        </>
      )
    case 'later':
      return <rect x="0.5" y="0.5" width={WIDE - 1} height={HIGH - 1} className={styles.pale} />
    case 'ask':
      return (
        <>
          <path d={`M0 ${middle}H${WIDE}`} className={styles.gap} />
          <path d={`M25 ${middle - 4.4}l4.4 4.4l-4.4 4.4l-4.4 -4.4Z`} className={styles.diamond} />
        </>
      )
    case 'hold':
      return (
        <>
          <rect width={WIDE} height={HIGH} className={styles.brick} />
          <path d={`M20 -0.6L30 ${HIGH + 0.6}M30 -0.6L20 ${HIGH + 0.6}`} className={styles.strike} />
        </>
      )
    case 'not-needed':
      return <path d={`M0 ${middle}H${WIDE}`} className={styles.dotted} />
  }
}

const shareOf = ({ done, of }: WeirPlank): number => (of === 0 ? 0.12 : Math.max(0.06, done / of))

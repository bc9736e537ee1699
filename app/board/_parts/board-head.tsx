import { SitePick } from '#app/_frame/site-pick.tsx'
import { chairsOf } from '#app/_help/chairs.ts'
import { HelpHere } from '#app/_help/help-here.tsx'
import type { DayOf } from '#app/_live/day-of.ts'
import { countLanes } from '#app/_live/shown.ts'
import { Button } from '#app/_ui/button.tsx'
import { Mark } from '#app/_ui/mark.tsx'
import { dayWords, timeOf } from '#app/_ui/time-words.ts'
import type { Instant } from '#shared/base/moment.ts'
import type { JudgedBoard } from '#shared/readiness/board-types.ts'
import { STATE_WORDS } from '#shared/words/en/states.ts'
import styles from './board.module.css'

export interface BoardHeadProps {
  of: DayOf
  board: JudgedBoard
  now: Instant
  frozen: boolean
  onFreeze: () => void
}

export function BoardHead({ of, board, now, frozen, onFreeze }: BoardHeadProps) {
  return (
    <header className={styles.head}>
      <p className={styles.clock}>{timeOf(now, of.site.zone)}</p>
      <div className={styles.where}>
        <h1>{of.clinic.name}</h1>
        <p>{dayWords(of.day)}</p>
      </div>
      <ul className={styles.counts} aria-label="Lanes by state">
        {countLanes(board).map(({ state, count }) => (
          <li key={state} data-none={count === 0 || undefined}>
            <Mark of={state} words={`${count} ${STATE_WORDS[state].toLowerCase()}`} quiet />
          </li>
        ))}
      </ul>
      <div className={styles.tools}>
        <SitePick of={of} />
        <HelpHere chairs={chairsOf(board)} size="small" />
        <Button size="small" onPress={onFreeze} aria-pressed={frozen}>
          {frozen ? `Frozen at ${timeOf(board.at, of.site.zone)}: go on` : 'Freeze board'}
        </Button>
      </div>
      <p className={styles.legend}>
        Planks from the bottom: patient · room and people · tray · allergies · numbness · plan
      </p>
    </header>
  )
}

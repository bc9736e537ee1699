import type { DayOf } from '#app/_live/day-of.ts'
import { WeirButton } from '#app/_marks/weir-button.tsx'
import { operatoryWords } from '#app/_ui/labels.ts'
import { Mark } from '#app/_ui/mark.tsx'
import { timeOf } from '#app/_ui/time-words.ts'
import type { JudgedBoard, JudgedLine } from '#shared/readiness/board-types.ts'
import styles from './board.module.css'
import { WorkOf } from './work-of.tsx'

export interface LaterProps {
  of: DayOf
  board: JudgedBoard
  linked: boolean
}

/** What comes after the next one in each operatory, by its booked start; folded, so that the lanes stay calm. */
export function Later({ of, board, linked }: LaterProps) {
  const lines = laterOf(board)
  if (lines.length === 0) return null
  return (
    <details className={styles.later}>
      <summary>
        Later today <span className={styles.count}>{lines.length}</span>
      </summary>
      <ul className={styles.lanes}>
        {lines.map(({ line, operatory }) => (
          <li key={line.appointmentId} className={styles.laterLine} data-state={line.state}>
            <p className={styles.time}>
              {timeOf(line.start, of.site.zone)}
              <span className={styles.expected}>{operatory}</span>
            </p>
            <WeirButton planks={line.planks} />
            <WorkOf line={line} notation={of.clinic.notation} linked={linked} words />
            <div className={styles.calling} data-state={line.state}>
              <Mark of={line.state} gate={line.gate} />
              <p className={styles.says}>{line.says}</p>
            </div>
          </li>
        ))}
      </ul>
    </details>
  )
}

const laterOf = ({ lanes }: JudgedBoard): { line: JudgedLine; operatory: string }[] =>
  lanes
    .flatMap((lane) => lane.next.slice(1).map((line) => ({ line, operatory: operatoryWords(lane.name) })))
    .sort((a, b) => a.line.start - b.line.start)

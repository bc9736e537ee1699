import { operatoryWords } from '#app/_ui/labels.ts'
import { Mark } from '#app/_ui/mark.tsx'
import { timeOf } from '#app/_ui/time-words.ts'
import type { Zone } from '#shared/base/moment.ts'
import type { JudgedBoard, JudgedLane } from '#shared/readiness/board-types.ts'
import { WAITS_FOR_DENTIST } from '#shared/words/en/states.ts'
import styles from './wall.module.css'

/** Operatory, now, the next time, Ready or Not yet: what anyone who passes may read. */
export function LanesTable({ board, zone }: { board: JudgedBoard; zone: Zone }) {
  return (
    <table className={styles.table}>
      <thead className="visually-hidden">
        <tr>
          <th>Operatory</th>
          <th>Now</th>
          <th>Next</th>
          <th>State</th>
        </tr>
      </thead>
      <tbody>
        {board.lanes.map((lane) => (
          <Row key={lane.operatoryId} lane={lane} zone={zone} />
        ))}
      </tbody>
    </table>
  )
}

function Row({ lane, zone }: { lane: JudgedLane; zone: Zone }) {
  const next = lane.next[0]
  const ready = next?.state === 'ready'
  const waits = lane.now?.says === WAITS_FOR_DENTIST
  return (
    <tr data-waits={waits || undefined}>
      <th scope="row">{operatoryWords(lane.name)}</th>
      <td>{lane.now ? (waits ? WAITS_FOR_DENTIST : 'In use') : ''}</td>
      <td>{next ? timeOf(next.expectedStart, zone) : ''}</td>
      <td>
        {next ? (
          <Mark of={ready ? 'ready' : 'later'} words={ready ? 'Ready' : 'Not yet'} />
        ) : (
          'Nothing more today'
        )}
      </td>
    </tr>
  )
}

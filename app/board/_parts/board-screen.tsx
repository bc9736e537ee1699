'use client'
import { useEffect, useRef, useState } from 'react'
import { DayHolder, type DaySnapshot, type DayViewProps } from '#app/_live/day-holder.tsx'
import type { DayOf } from '#app/_live/day-of.ts'
import { useLive } from '#app/_live/provider.tsx'
import { newlyCalling } from '#app/_live/shown.ts'
import { useMoment } from '#app/_live/use-moment.ts'
import { ShortList } from '#app/_ui/short-list.tsx'
import type { Instant } from '#shared/base/moment.ts'
import { can } from '#shared/people/role.ts'
import type { JudgedBoard, JudgedLine } from '#shared/readiness/board-types.ts'
import styles from './board.module.css'
import { BoardHead } from './board-head.tsx'
import { LaneRow, Next } from './lane-row.tsx'
import { Later } from './later.tsx'
import { StartOfDay } from './start-of-day.tsx'
import { TakenOver } from './taken-over.tsx'

export function BoardScreen({ of, snapshot }: { of: DayOf; snapshot: DaySnapshot }) {
  return <DayHolder of={of} snapshot={snapshot} View={BoardView} />
}

function BoardView({ of, board, short, linked }: DayViewProps) {
  const now = useMoment()
  const [frozen, setFrozen] = useState<JudgedBoard | null>(null)
  const shown = frozen ?? board
  const shownAt = frozen?.at ?? now
  useAnnounced(board)
  return (
    <div className={styles.board}>
      <BoardHead
        of={of}
        board={shown}
        now={now}
        frozen={frozen !== null}
        onFreeze={() => setFrozen(frozen ? null : board)}
      />
      {linked ? <StartOfDay of={of} /> : null}
      {isForTheShelf(of) ? <ShortList short={short} zone={of.site.zone} /> : null}
      <TakenOver of={of} board={shown} linked={linked} />
      <div className={styles.heads} aria-hidden="true">
        <span>Operatory</span>
        <span>Now</span>
        <span>Next</span>
        <span>Missing first · next to act</span>
        <span className={styles.end}>Starts in</span>
      </div>
      <ul className={styles.lanes}>
        {shown.lanes.map((lane) => (
          <LaneRow key={lane.operatoryId} lane={lane} of={of} now={shownAt} linked={linked} />
        ))}
      </ul>
      <Later of={of} board={shown} linked={linked} />
      {shown.unplaced.length > 0 ? (
        <Unplaced of={of} lines={shown.unplaced} now={shownAt} linked={linked} />
      ) : null}
    </div>
  )
}

/** Who treats gets no notes of the shelf; the desk's are its own. */
const isForTheShelf = ({ member }: DayOf): boolean =>
  can(member.roles, 'stock:count') || !can(member.roles, 'clinical:read')

interface UnplacedProps {
  of: DayOf
  lines: JudgedLine[]
  now: Instant
  linked: boolean
}

/** Appointments of the day that no operatory has yet. */
function Unplaced({ of, lines, now, linked }: UnplacedProps) {
  return (
    <section aria-labelledby="unplaced" className={styles.unplaced}>
      <h2 id="unplaced">No operatory yet</h2>
      <ul className={styles.lanes}>
        {lines.map((line) => (
          <li key={line.appointmentId} className={styles.lane} data-state={line.state}>
            <span />
            <span />
            <Next line={line} of={of} now={now} linked={linked} />
          </li>
        ))}
      </ul>
    </section>
  )
}

/** Says politely which lanes have come to need someone. */
function useAnnounced(board: JudgedBoard): void {
  const { announce } = useLive()
  const before = useRef(board)
  useEffect(() => {
    for (const text of newlyCalling(before.current, board)) announce(text)
    before.current = board
  }, [board, announce])
}

'use client'
import { useEffect, useMemo, useRef, useState } from 'react'
import type { HeldBoard, HeldWorld } from '#app/_live/held.ts'
import { stepBoard, stepWorld } from '#app/_live/held.ts'
import { LiveProvider, useLive } from '#app/_live/provider.tsx'
import { server } from '#app/_live/server.ts'
import { useMoment } from '#app/_live/use-moment.ts'
import { useJudgedBoard, useWorld } from '#app/_live/use-world.ts'
import type { Day, Instant } from '#shared/base/moment.ts'
import type { MemberId } from '#shared/ids.ts'
import type { Clinic, Site } from '#shared/people/clinic.ts'
import { boardFor } from '#shared/readiness/board.ts'
import type { JudgedBoard, JudgedLine } from '#shared/readiness/board-types.ts'
import { makeWindow } from '#shared/window.ts'
import styles from './board.module.css'
import { BoardHead } from './board-head.tsx'
import { LaneRow, Next } from './lane-row.tsx'
import { judgedAt, newlyCalling, shownBoard } from './shown.ts'

/** What the board is of, and the names it shows. */
export interface BoardOf {
  clinic: Clinic
  site: Site
  day: Day
  names: Record<MemberId, string>
}

/** For those who may hold clinical facts: judged here, with the server's own functions. */
export function ClinicalBoard({ of, snapshot }: { of: BoardOf; snapshot: HeldWorld }) {
  const { siteId, day } = { siteId: of.site.id, day: of.day }
  const again = async (): Promise<HeldWorld> => {
    const fresh = await server.board.day.query({ siteId, day })
    return fresh.kind === 'facts' ? fresh : snapshot
  }
  return (
    <LiveProvider
      window={makeWindow({ kind: 'day', siteId, day })}
      zone={of.site.zone}
      snapshot={snapshot}
      step={stepWorld}
      again={again}
    >
      <JudgeHere of={of} />
    </LiveProvider>
  )
}

function JudgeHere({ of }: { of: BoardOf }) {
  const { world, at } = useWorld()
  const now = judgedAt(useMoment(), at)
  const board = useMemo(
    () => shownBoard(boardFor(world, { siteId: of.site.id, day: of.day, now })),
    [world, of, now],
  )
  return <BoardView of={of} board={board} linked />
}

/** For the desk: lanes judged on the server, no facts. */
export function DeskBoard({ of, snapshot }: { of: BoardOf; snapshot: HeldBoard }) {
  const { siteId, day } = { siteId: of.site.id, day: of.day }
  const again = async (): Promise<HeldBoard> => {
    const fresh = await server.board.day.query({ siteId, day })
    return fresh.kind === 'lanes' ? fresh : snapshot
  }
  return (
    <LiveProvider
      window={makeWindow({ kind: 'day', siteId, day })}
      zone={of.site.zone}
      snapshot={snapshot}
      step={stepBoard}
      again={again}
    >
      <JudgedThere of={of} />
    </LiveProvider>
  )
}

function JudgedThere({ of }: { of: BoardOf }) {
  const { board } = useJudgedBoard()
  return <BoardView of={of} board={board} linked={false} />
}

function BoardView({ of, board, linked }: { of: BoardOf; board: JudgedBoard; linked: boolean }) {
  const now = useMoment()
  const [frozen, setFrozen] = useState<JudgedBoard | null>(null)
  const shown = frozen ?? board
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
      <div className={styles.heads} aria-hidden="true">
        <span>Operatory</span>
        <span>Now</span>
        <span>Next</span>
        <span>Missing first · next to act</span>
        <span className={styles.end}>Starts in</span>
      </div>
      <ul className={styles.lanes}>
        {shown.lanes.map((lane) => (
          <LaneRow
            key={lane.operatoryId}
            lane={lane}
            of={of}
            now={frozen ? frozen.at : now}
            linked={linked}
          />
        ))}
      </ul>
      {shown.unplaced.length > 0 ? (
        <Unplaced of={of} lines={shown.unplaced} now={now} linked={linked} />
      ) : null}
    </div>
  )
}

/** Appointments of today that no operatory has yet. */
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

interface UnplacedProps {
  of: BoardOf
  lines: JudgedLine[]
  now: Instant
  linked: boolean
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

'use client'
import { lazy, Suspense } from 'react'
import type { DayOf } from '#app/_live/day-of.ts'
import type { JudgedBoard } from '#shared/readiness/board-types.ts'

const TakenOverLines = lazy(() => import('./taken-over-lines.tsx'))

export interface TakenOverProps {
  of: DayOf
  board: JudgedBoard
  linked: boolean
}

/** On top of the board of a dentist who took visits over from another; nothing on any other board. */
export function TakenOver({ of, board, linked }: TakenOverProps) {
  const lines = [
    ...board.lanes.flatMap(({ now, next }) => (now ? [now, ...next] : next)),
    ...board.unplaced,
  ].filter(({ dentistId, formerDentist }) => formerDentist !== null && dentistId === of.member.id)
  if (!linked || lines.length === 0) return null
  return (
    <Suspense fallback={null}>
      <TakenOverLines lines={lines.sort((a, b) => a.start - b.start)} of={of} />
    </Suspense>
  )
}

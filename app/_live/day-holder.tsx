'use client'
import { type ComponentType, type ReactNode, useMemo } from 'react'
import { ClockPanel } from '#app/_frame/clock-panel.tsx'
import { boardFor } from '#shared/readiness/board.ts'
import type { JudgedBoard } from '#shared/readiness/board-types.ts'
import { indexDay } from '#shared/readiness/day-index.ts'
import { putAwayOnBoard } from '#shared/readiness/teaching.ts'
import { makeWindow } from '#shared/window.ts'
import type { ShortSet } from '#shared/words/short-sets.ts'
import type { DayOf } from './day-of.ts'
import { type HeldBoard, type HeldDay, stepBoard, stepDay } from './held.ts'
import { LiveProvider } from './provider.tsx'
import { shownBoard } from './shown.ts'
import { useJudgingMoment } from './use-moment.ts'
import { useDay, useJudgedBoard } from './use-world.ts'

/** What a day screen begins with: facts for those who may hold them, judged lanes for the others. */
export type DaySnapshot = ({ kind: 'facts' } & HeldDay) | ({ kind: 'lanes' } & HeldBoard)

export interface DayViewProps {
  of: DayOf
  board: JudgedBoard
  /** Appointments that find too few sets, the first on top. */
  short: ShortSet[]
  /** Whether appointments open their plan page from here. */
  linked: boolean
}

export interface DayHolderProps {
  of: DayOf
  snapshot: DaySnapshot
  View: ComponentType<DayViewProps>
}

/** Holds a day up to date, judged here or on the server, and shows it by `View`. */
export function DayHolder({ of, snapshot, View }: DayHolderProps) {
  return (
    <DayLive of={of} snapshot={snapshot}>
      {snapshot.kind === 'facts' ? <JudgedHere of={of} View={View} /> : <JudgedThere of={of} View={View} />}
    </DayLive>
  )
}

const windowOf = ({ site, day }: DayOf): string => makeWindow({ kind: 'day', siteId: site.id, day })
/** After a gap alone, so what asks for it is fetched then. */
async function take({ site, day }: DayOf): Promise<DaySnapshot> {
  const { server } = await import('./server.ts')
  return server.board.day.query({ siteId: site.id, day })
}

type DayLiveProps = Omit<DayHolderProps, 'View'> & { children: ReactNode }

/** Holds a day up to date for what stands inside it; in the invented clinic its clock can be moved below. */
export function DayLive({ of, snapshot, children }: DayLiveProps) {
  if (snapshot.kind === 'lanes') return <LanesLive of={of} snapshot={snapshot} inside={children} />
  const again = async (): Promise<HeldDay> => {
    const fresh = await take(of)
    return fresh.kind === 'facts' ? fresh : snapshot
  }
  return (
    <LiveProvider window={windowOf(of)} zone={of.site.zone} snapshot={snapshot} step={stepDay} again={again}>
      {children}
      <ClockPanel of={of} />
    </LiveProvider>
  )
}

function LanesLive({ of, snapshot, inside }: { of: DayOf; snapshot: HeldBoard; inside: ReactNode }) {
  const again = async (): Promise<HeldBoard> => {
    const fresh = await take(of)
    return fresh.kind === 'lanes' ? fresh : snapshot
  }
  return (
    <LiveProvider
      window={windowOf(of)}
      zone={of.site.zone}
      snapshot={snapshot}
      step={stepBoard}
      again={again}
    >
      {inside}
      <ClockPanel of={of} />
    </LiveProvider>
  )
}

function JudgedHere({ of, View }: Pick<DayHolderProps, 'of' | 'View'>) {
  const { world, short } = useDay()
  const now = useJudgingMoment()
  const board = useMemo(
    () =>
      shownBoard(
        putAwayOnBoard(
          boardFor(world, { siteId: of.site.id, day: of.day, now }),
          indexDay(world),
          of.member.id,
        ),
      ),
    [world, of, now],
  )
  return <View of={of} board={board} short={short} linked />
}

function JudgedThere({ of, View }: Pick<DayHolderProps, 'of' | 'View'>) {
  const { board, short } = useJudgedBoard()
  return <View of={of} board={board} short={short} linked={false} />
}

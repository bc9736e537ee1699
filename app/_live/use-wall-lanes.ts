'use client'
import { useEffect, useState } from 'react'
import type { Day } from '#shared/base/moment.ts'
import type { SiteId } from '#shared/ids.ts'
import type { JudgedLane } from '#shared/readiness/board-types.ts'
import { makeWindow } from '#shared/window.ts'
import { openStream } from './event-stream.ts'
import { type HeldBoard, stepBoard } from './held.ts'
import { server } from './server.ts'

const NONE: readonly JudgedLane[] = []

/**
 * The other chairs of a site's day as the wall has them, judged on the server, beside what a page holds itself. Only
 * while the page is looked at: a browser keeps few streams open to one house. Without an answer there are none.
 */
export function useWallLanes({ siteId, day }: { siteId: SiteId; day: Day }): readonly JudgedLane[] {
  const [lanes, setLanes] = useState(NONE)
  useEffect(() => {
    let close: (() => void) | null = null
    const follow = () => {
      close?.()
      close = document.hidden ? null : followWall({ siteId, day }, setLanes)
    }
    follow()
    document.addEventListener('visibilitychange', follow)
    return () => {
      document.removeEventListener('visibilitychange', follow)
      close?.()
    }
  }, [siteId, day])
  return lanes
}

function followWall(
  window: { siteId: SiteId; day: Day },
  onLanes: (lanes: readonly JudgedLane[]) => void,
): () => void {
  let held: HeldBoard | null = null
  let isClosed = false
  let close = () => {}
  const hold = (next: HeldBoard) => {
    held = next
    onLanes(next.board.lanes)
  }
  const take = () =>
    server.board.wall.query(window).then(
      (taken) => isClosed || taken.kind !== 'lanes' || hold(taken),
      () => undefined,
    )
  const since = () => `${held?.revision ?? 0}`
  const address = () =>
    `/api/changes?${new URLSearchParams({ window: makeWindow({ kind: 'day', ...window }), since: since(), audience: 'wall' })}`
  void take().then(() => {
    if (isClosed) return
    close = openStream(address, {
      onOpen: () => {},
      onBeat: () => {},
      onRefused: () => {},
      onEvent: (event) => {
        const next = held && stepBoard(held, event)
        if (next === null || next.kind === 'resync') void take()
        else if (next.held !== held) hold(next.held)
      },
    })
  })
  return () => {
    isClosed = true
    close()
  }
}

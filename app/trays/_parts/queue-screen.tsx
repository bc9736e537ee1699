'use client'
import { useMemo } from 'react'
import { SitePick } from '#app/_frame/site-pick.tsx'
import { chairsOf } from '#app/_help/chairs.ts'
import { HelpHere } from '#app/_help/help-here.tsx'
import { DayLive, type DaySnapshot } from '#app/_live/day-holder.tsx'
import type { DayOf } from '#app/_live/day-of.ts'
import { useJudgingMoment } from '#app/_live/use-moment.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { CautionLine } from '#app/_ui/caution-line.tsx'
import list from '#app/_ui/list.module.css'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { boardFor } from '#shared/readiness/board.ts'
import { partOf, QUEUE_PARTS, type Queued, type QueuePart, queueOf } from './queue.ts'
import { QueueRow, type QueueRowProps } from './queue-row.tsx'
import styles from './trays.module.css'
import { TraysNav } from './trays-nav.tsx'

export function QueueScreen({ of, snapshot }: { of: DayOf; snapshot: DaySnapshot }) {
  return (
    <DayLive of={of} snapshot={snapshot}>
      <Queue of={of} />
    </DayLive>
  )
}

const TITLES: Record<QueuePart, { title: string; none: string }> = {
  yours: { title: 'Yours', none: 'You have no tray now.' },
  begin: { title: 'To be begun', none: 'Nothing to begin within the hour.' },
  'in-hand': { title: 'In other hands', none: 'Nobody else is laying out a tray.' },
  laid: { title: 'Laid out', none: 'None yet.' },
  later: { title: 'Later today', none: 'Nothing more today.' },
}

function Queue({ of }: { of: DayOf }) {
  const { world } = useWorld()
  const now = useJudgingMoment()
  const performing = usePerform()
  const queue = useMemo(
    () => queueOf(world, { siteId: of.site.id, day: of.day, now, me: of.member.id }),
    [world, of, now],
  )
  const chairs = useMemo(
    () => chairsOf(boardFor(world, { siteId: of.site.id, day: of.day, now })),
    [world, of, now],
  )
  const rowsOf = (part: QueuePart) =>
    queue.filter((queued) => partOf(queued, { me: of.member.id, now }) === part)
  return (
    <div className={list.page}>
      <div className={styles.top}>
        <h1>Trays</h1>
        <SitePick of={of} />
        <TraysNav of={of} here="/trays" />
        <HelpHere chairs={chairs} />
      </div>
      <OutcomeBox outcome={performing.outcome} />
      {QUEUE_PARTS.map((part) => (
        <Part key={part} part={part} rows={rowsOf(part)} of={of} now={now} performing={performing} />
      ))}
      <CautionLine />
    </div>
  )
}

interface PartProps extends Omit<QueueRowProps, 'queued'> {
  part: QueuePart
  rows: Queued[]
}

function Part({ part, rows, ...rest }: PartProps) {
  const { title, none } = TITLES[part]
  const shown = (
    <ul className={list.rows}>
      {rows.map((queued) => (
        <QueueRow key={queued.tray.id} queued={queued} {...rest} />
      ))}
    </ul>
  )
  return (
    <section aria-labelledby={part}>
      <h2 id={part}>
        {title} <span>{rows.length}</span>
      </h2>
      {rows.length === 0 ? <p className={styles.none}>{none}</p> : null}
      {part === 'later' && rows.length > 0 ? (
        <details>
          <summary className={list.more}>Show them</summary>
          {shown}
        </details>
      ) : (
        shown
      )}
    </section>
  )
}

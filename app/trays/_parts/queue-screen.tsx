'use client'
import { useMemo } from 'react'
import { DayLive, type DayOf, type DaySnapshot } from '#app/_live/day-holder.tsx'
import { useJudgingMoment } from '#app/_live/use-moment.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { CautionLine } from '#app/_ui/caution-line.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { partOf, type Queued, type QueuePart, queueOf } from './queue.ts'
import { QueueRow } from './queue-row.tsx'
import styles from './trays.module.css'

export function QueueScreen({ of, snapshot }: { of: DayOf; snapshot: DaySnapshot }) {
  return (
    <DayLive of={of} snapshot={snapshot}>
      <Queue of={of} />
    </DayLive>
  )
}

const PARTS: { part: QueuePart; title: string; none: string }[] = [
  { part: 'begin', title: 'To be begun', none: 'Every tray of today has someone.' },
  { part: 'in-hand', title: 'Being laid out', none: 'Nobody is laying out a tray now.' },
  { part: 'laid', title: 'Laid out', none: 'None yet.' },
]

function Queue({ of }: { of: DayOf }) {
  const { world } = useWorld()
  const now = useJudgingMoment()
  const performing = usePerform()
  const queue = useMemo(() => queueOf(world, { siteId: of.site.id, day: of.day, now }), [world, of, now])
  return (
    <div className={styles.queue}>
      <h1>Trays</h1>
      <OutcomeBox outcome={performing.outcome} />
      {PARTS.map(({ part, title, none }) => {
        const rows = queue.filter((queued) => partOf(queued) === part)
        return (
          <section key={part} aria-labelledby={part}>
            <h2 id={part}>
              {title} <span>{rows.length}</span>
            </h2>
            {rows.length === 0 ? <p className={styles.none}>{none}</p> : null}
            <ul className={styles.rows}>
              {rows.map((queued: Queued) => (
                <QueueRow key={queued.tray.id} queued={queued} of={of} now={now} performing={performing} />
              ))}
            </ul>
          </section>
        )
      })}
      <CautionLine />
    </div>
  )
}

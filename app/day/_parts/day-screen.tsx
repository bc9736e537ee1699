'use client'
import Link from 'next/link'
import { SitePick } from '#app/_frame/site-pick.tsx'
import { DayHolder, type DaySnapshot, type DayViewProps } from '#app/_live/day-holder.tsx'
import type { DayOf } from '#app/_live/day-of.ts'
import { useMoment } from '#app/_live/use-moment.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { ShortList } from '#app/_ui/short-list.tsx'
import { dayWords, timeOf } from '#app/_ui/time-words.ts'
import { can } from '#shared/people/role.ts'
import type { JudgedBoard } from '#shared/readiness/board-types.ts'
import { BookForm } from './book-form.tsx'
import { Calls } from './calls.tsx'
import styles from './day.module.css'
import { type DayLine, DayRow } from './day-row.tsx'

export function DayScreen({ of, snapshot }: { of: DayOf; snapshot: DaySnapshot }) {
  return <DayHolder of={of} snapshot={snapshot} View={DayView} />
}

/** Every appointment of the day that is not over, by its booked start. */
export const linesOf = ({ lanes, unplaced }: JudgedBoard): DayLine[] =>
  [
    ...lanes.flatMap((lane) =>
      [lane.now, ...lane.next].flatMap((line) => (line ? [{ line, operatory: lane.name }] : [])),
    ),
    ...unplaced.map((line) => ({ line, operatory: null })),
  ].sort((a, b) => a.line.start - b.line.start)

function DayView({ of, board, short, linked }: DayViewProps) {
  const now = useMoment()
  const performing = usePerform()
  const lines = linesOf(board)
  const mayChange = can(of.member.roles, 'day:change')
  return (
    <div className={styles.day}>
      <header className={styles.head}>
        <p className={styles.clock}>{timeOf(now, of.site.zone)}</p>
        <div>
          <h1>{dayWords(of.day)}</h1>
          <p className={styles.small}>{lines.length} appointments to come or under way</p>
        </div>
        <SitePick of={of} />
        <nav className={styles.ways} aria-label="In and out of the day">
          {can(of.member.roles, 'day:import') ? (
            <Link href="/day/import" className={styles.open} prefetch={false}>
              Read in a day list
            </Link>
          ) : null}
          {mayChange ? (
            <Link href="/day/roster" className={styles.open} prefetch={false}>
              Who works when
            </Link>
          ) : null}
          <Link href="/day/giving-back" className={styles.open} prefetch={false}>
            Give the day back
          </Link>
        </nav>
      </header>
      <ShortList short={short} zone={of.site.zone} />
      {mayChange ? <BookForm of={of} board={board} /> : null}
      <OutcomeBox outcome={performing.outcome} />
      {mayChange ? <Calls lines={lines} of={of} performing={performing} /> : null}
      <ul className={styles.rows}>
        {lines.map((each) => (
          <DayRow
            key={each.line.appointmentId}
            {...each}
            of={of}
            board={board}
            now={now}
            performing={performing}
            mayChange={mayChange}
            linked={linked}
          />
        ))}
      </ul>
    </div>
  )
}

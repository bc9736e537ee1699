'use client'
import Link from 'next/link'
import type { DayOf } from '#app/_live/day-of.ts'
import { useJudgingMoment } from '#app/_live/use-moment.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { FirstLines } from '#app/_ui/first-lines.tsx'
import { timeOf } from '#app/_ui/time-words.ts'
import type { MemberId } from '#shared/ids.ts'
import type { JudgedLine } from '#shared/readiness/board-types.ts'
import { findAppointment, indexDay } from '#shared/readiness/day-index.ts'
import { findTakenOver } from '#shared/readiness/taken-over.ts'
import styles from './board.module.css'

/** Visits that whoever is signed in took over, each with what to know first. */
export default function TakenOverLines({ lines, of }: { lines: readonly JudgedLine[]; of: DayOf }) {
  const { world } = useWorld()
  const now = useJudgingMoment()
  const day = indexDay(world)
  const zone = of.site.zone
  const nameOf = (id: MemberId | null): string =>
    id === null ? '' : (of.names[id] ?? 'somebody who has left')
  const rows = lines.flatMap(({ appointmentId, start, patient }) => {
    const facts = findAppointment(day, appointmentId)
    const taken = facts && findTakenOver(facts, now)
    return taken
      ? [{ appointmentId, start, name: patient?.name ?? 'Patient not known here', facts, taken }]
      : []
  })
  if (rows.length === 0) return null
  return (
    <section aria-labelledby="taken-over">
      <details open className={styles.takenOver}>
        <summary>
          <h2 id="taken-over">Taken over by you: {rows.length}</h2>
        </summary>
        <ul>
          {rows.map(({ appointmentId, start, name, facts, taken }) => (
            <li key={appointmentId} className={styles.taken}>
              <Link href={`/appointments/${appointmentId}`} prefetch={false}>
                {timeOf(start, zone)} {name}
              </Link>
              <FirstLines seen={{ facts, nameOf, zone }} taken={taken} />
            </li>
          ))}
        </ul>
      </details>
    </section>
  )
}

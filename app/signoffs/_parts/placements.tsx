'use client'
import type { DayOf } from '#app/_live/day-holder.tsx'
import { useWorld } from '#app/_live/use-world.ts'
import { findFact, type World } from '#shared/facts.ts'
import type { MemberId } from '#shared/ids.ts'
import styles from './sign-offs.module.css'

/** Dams placed today, counted per student. */
export function Placements({ of }: { of: DayOf }) {
  const { world } = useWorld()
  const counts = [...countPlacements(world)]
  if (counts.length === 0) return null
  return (
    <section aria-labelledby="placements" className={styles.others}>
      <h2 id="placements">Dams placed today</h2>
      <ul className={styles.list}>
        {counts.map(([studentId, count]) => (
          <li key={studentId}>
            <span>{of.names[studentId] ?? 'student not known'}</span>
            <span>{count}</span>
          </li>
        ))}
      </ul>
    </section>
  )
}

function countPlacements(world: World): Map<MemberId, number> {
  const counts = new Map<MemberId, number>()
  for (const appointmentId of new Set(world.asPlaced.map((placed) => placed.appointmentId))) {
    const studentId = findFact(world, 'appointment', appointmentId)?.studentId
    if (studentId) counts.set(studentId, (counts.get(studentId) ?? 0) + 1)
  }
  return counts
}

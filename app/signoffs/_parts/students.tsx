'use client'
import type { DayOf } from '#app/_live/day-of.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import type { Placements } from '#server/trpc/sign-offs-router.ts'
import { findFact, type World } from '#shared/facts.ts'
import type { MemberId } from '#shared/ids.ts'
import type { Member } from '#shared/people/clinic.ts'
import styles from './sign-offs.module.css'

/** The clinic's students: dams placed today and in all, and who draws a plan of their own before they see the one that stands. */
export function Students({ of, placed }: { of: DayOf; placed: readonly Placements[] }) {
  const { world } = useWorld()
  const today = countPlacements(world)
  const earlier = new Map(placed.map(({ studentId, visits }) => [studentId, visits]))
  const students = world.member
    .filter(({ active, roles }) => active && roles.includes('student'))
    .sort((a, b) => a.name.localeCompare(b.name))
  if (students.length === 0) return null
  return (
    <section aria-labelledby="students" className={styles.others}>
      <h2 id="students">Students</h2>
      <ul className={styles.list}>
        {students.map((student) => (
          <StudentRow
            key={student.id}
            student={student}
            today={today.get(student.id) ?? 0}
            earlier={earlier.get(student.id) ?? 0}
            of={of}
          />
        ))}
      </ul>
    </section>
  )
}

interface StudentRowProps {
  student: Member
  /** Visits with a dam placed, today and on all days before. */
  today: number
  earlier: number
  of: DayOf
}

function StudentRow({ student, today, earlier, of }: StudentRowProps) {
  const performing = usePerform()
  const drawsFirst = student.drawsFirst === true
  return (
    <li>
      <span>
        {of.names[student.id] ?? student.name} · {damsWords(today)} placed today, {earlier + today}
        {' in all'}
      </span>
      <ActButton
        kind="teaching.set"
        input={{ memberId: student.id, drawsFirst: !drawsFirst }}
        performing={performing}
        aria-pressed={drawsFirst}
        aria-label={`${student.name} draws a plan first`}
        done={
          drawsFirst
            ? `${student.name} sees the plan at once.`
            : `${student.name} draws a plan before seeing the one that stands.`
        }
      >
        Draws a plan first
      </ActButton>
      <OutcomeBox outcome={performing.outcome} />
    </li>
  )
}

const damsWords = (count: number): string => (count === 1 ? '1 dam' : `${count} dams`)

function countPlacements(world: World): Map<MemberId, number> {
  const counts = new Map<MemberId, number>()
  for (const appointmentId of new Set(world.asPlaced.map((placed) => placed.appointmentId))) {
    const studentId = findFact(world, 'appointment', appointmentId)?.studentId
    if (studentId) counts.set(studentId, (counts.get(studentId) ?? 0) + 1)
  }
  return counts
}

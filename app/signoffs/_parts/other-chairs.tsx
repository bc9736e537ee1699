'use client'
import Link from 'next/link'
import type { DayOf } from '#app/_live/day-of.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { operatoryWords } from '#app/_ui/labels.ts'
import { timeOf } from '#app/_ui/time-words.ts'
import type { Instant } from '#shared/base/moment.ts'
import { findFact } from '#shared/facts.ts'
import { type AppointmentFacts, findAppointment, indexDay } from '#shared/readiness/day-index.ts'
import { stageOf } from '#shared/readiness/gates.ts'
import { findProposal } from '#shared/readiness/giving.ts'
import type { SignOff } from '#shared/readiness/sign-offs.ts'
import { standingOf } from '#shared/readiness/word.ts'
import { type Appointment, isOver } from '#shared/schedule/appointment.ts'
import { STAGE_WORDS } from '#shared/words/en/states.ts'
import styles from './sign-offs.module.css'

interface OtherChairsProps {
  of: DayOf
  now: Instant
  waiting: readonly SignOff[]
}

/** Students' chairs of today under this instructor that do not wait, and where each stands. */
export function OtherChairs({ of, now, waiting }: OtherChairsProps) {
  const { world } = useWorld()
  const index = indexDay(world)
  const others = world.appointment
    .filter(({ dentistId, studentId, day, status }) => {
      return dentistId === of.member.id && studentId !== null && day === of.day && !isOver(status)
    })
    .filter(({ id }) => !waiting.some(({ appointmentId }) => appointmentId === id))
    .sort((a, b) => a.start - b.start)
  if (others.length === 0) return null
  return (
    <section aria-labelledby="others" className={styles.others}>
      <h2 id="others">Your students’ other chairs today</h2>
      <ul className={styles.list}>
        {others.map((appointment) => {
          const facts = findAppointment(index, appointment.id)
          return (
            <li key={appointment.id}>
              <Link href={`/appointments/${appointment.id}`} className={styles.more} prefetch={false}>
                {timeOf(appointment.start, of.site.zone)} ·{' '}
                {operatoryWords(findFact(world, 'operatory', appointment.operatoryId)?.name)} ·{' '}
                {studentOf(appointment, of)}
              </Link>
              <span>{facts ? standsWords(facts, now) : ''}</span>
            </li>
          )
        })}
      </ul>
    </section>
  )
}

const studentOf = ({ studentId }: Appointment, of: DayOf): string =>
  (studentId === null ? undefined : of.names[studentId]) ?? 'student not known'

function standsWords(facts: AppointmentFacts, now: Instant): string {
  const stage = STAGE_WORDS[stageOf(facts)].toLowerCase()
  if (facts.plan === null) return `${stage} · no plan yet`
  const standing = standingOf(facts, now)
  if (standing.kind === 'not-needed') return `${stage} · no isolation to agree to`
  if (standing.kind === 'live') return `${stage} · agreed, plan ${standing.word.planNumber}`
  return findProposal(facts)
    ? `${stage} · put to you`
    : `${stage} · plan ${facts.plan.number} not put to you yet`
}

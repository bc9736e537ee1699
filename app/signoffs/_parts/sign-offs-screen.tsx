'use client'
import { useMemo } from 'react'
import { chairsOf } from '#app/_help/chairs.ts'
import { HelpHere } from '#app/_help/help-here.tsx'
import { DayLive, type DaySnapshot } from '#app/_live/day-holder.tsx'
import type { DayOf } from '#app/_live/day-of.ts'
import { useJudgingMoment } from '#app/_live/use-moment.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { CautionLine } from '#app/_ui/caution-line.tsx'
import type { Placements } from '#server/trpc/sign-offs-router.ts'
import { boardFor } from '#shared/readiness/board.ts'
import { signOffsFor } from '#shared/readiness/sign-offs.ts'
import { OtherChairs } from './other-chairs.tsx'
import { SignOffRow } from './sign-off-row.tsx'
import styles from './sign-offs.module.css'
import { Students } from './students.tsx'

export interface SignOffsScreenProps {
  of: DayOf
  snapshot: DaySnapshot
  /** Per student, the visits before this day on which a dam was placed. */
  placed: readonly Placements[]
}

export function SignOffsScreen({ of, snapshot, placed }: SignOffsScreenProps) {
  return (
    <DayLive of={of} snapshot={snapshot}>
      <SignOffs of={of} placed={placed} />
    </DayLive>
  )
}

/** The chairs that wait for this instructor, the most pressing first. */
function SignOffs({ of, placed }: Pick<SignOffsScreenProps, 'of' | 'placed'>) {
  const { world } = useWorld()
  const now = useJudgingMoment()
  const { id: instructorId } = of.member
  const waiting = useMemo(
    () => signOffsFor(world, { instructorId, day: of.day, now }),
    [world, instructorId, of.day, now],
  )
  const chairs = useMemo(
    () => chairsOf(boardFor(world, { siteId: of.site.id, day: of.day, now })),
    [world, of, now],
  )
  return (
    <div className={styles.page}>
      <header className={styles.head}>
        <h1>Chairs that wait for you</h1>
        <HelpHere chairs={chairs} />
      </header>
      {waiting.length === 0 ? (
        <p>No chair waits for you. A plan comes here as soon as a student puts it to you.</p>
      ) : (
        <ol className={styles.rows}>
          {waiting.map((signOff) => (
            <SignOffRow
              key={`${signOff.appointmentId} ${signOff.wants}`}
              signOff={signOff}
              of={of}
              now={now}
            />
          ))}
        </ol>
      )}
      <OtherChairs of={of} now={now} waiting={waiting} />
      <Students of={of} placed={placed} />
      <CautionLine />
    </div>
  )
}

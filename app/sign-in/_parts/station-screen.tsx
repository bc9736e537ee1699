'use client'
import { Planks } from '#app/_frame/planks.tsx'
import { chairsOf } from '#app/_help/chairs.ts'
import { HelpHere } from '#app/_help/help-here.tsx'
import { DayLive, type DaySnapshot } from '#app/_live/day-holder.tsx'
import type { DayOf } from '#app/_live/day-of.ts'
import { useMoment } from '#app/_live/use-moment.ts'
import { useJudgedBoard } from '#app/_live/use-world.ts'
import { timeOf } from '#app/_ui/time-words.ts'
import { WaitingLine } from '#app/_ui/waiting-line.tsx'
import { LanesTable } from '#app/wall/lanes-table.tsx'
import styles from './station.module.css'
import { StopHere } from './stop-here.tsx'
import { type StationDoors, WhoIsHere } from './who-is-here.tsx'

export interface StationScreenProps {
  of: DayOf
  snapshot: DaySnapshot
  doors: StationDoors
}

/** A shared station where nobody is signed in: what anyone may read, the stop, and who comes next. */
export function StationScreen({ of, snapshot, doors }: StationScreenProps) {
  return (
    <main className={styles.room}>
      <DayLive of={of} snapshot={snapshot}>
        <Room of={of} doors={doors} />
      </DayLive>
    </main>
  )
}

function Room({ of, doors }: Pick<StationScreenProps, 'of' | 'doors'>) {
  const { board } = useJudgedBoard()
  const now = useMoment()
  const chairs = chairsOf(board)
  return (
    <div className={styles.parts}>
      <header className={styles.head}>
        <p className={styles.house}>
          <Planks />
          Weirboard
        </p>
        <h1>{of.member.name}</h1>
        <p className={styles.clock}>{timeOf(now, of.site.zone)}</p>
      </header>
      <WaitingLine lanes={board.lanes} />
      <section aria-labelledby="stop" className={styles.part}>
        <h2 id="stop">Without signing in</h2>
        <div className={styles.controls}>
          {chairs.length === 0 ? <p>Nobody sits in a chair here.</p> : null}
          {chairs.map((chair) => (
            <StopHere key={chair.appointmentId} chair={chair} />
          ))}
          <HelpHere chairs={chairs} size="main" />
        </div>
      </section>
      <div className={styles.columns}>
        <WhoIsHere doors={doors} />
        <section aria-labelledby="rooms" className={styles.part}>
          <h2 id="rooms">Operatories</h2>
          <LanesTable board={board} zone={of.site.zone} />
        </section>
      </div>
    </div>
  )
}

'use client'
import { type HeldBoard, stepBoard } from '#app/_live/held.ts'
import { LiveProvider, useLive } from '#app/_live/provider.tsx'
import { server } from '#app/_live/server.ts'
import { useMoment } from '#app/_live/use-moment.ts'
import { useJudgedBoard } from '#app/_live/use-world.ts'
import { timeOf } from '#app/_ui/time-words.ts'
import type { Day, Zone } from '#shared/base/moment.ts'
import type { Site } from '#shared/people/clinic.ts'
import { makeWindow } from '#shared/window.ts'
import { LanesTable } from './lanes-table.tsx'
import styles from './wall.module.css'

export interface WallScreenProps {
  clinicName: string
  site: Site
  day: Day
  snapshot: HeldBoard
}

/** For the corridor: operatory, time, Ready or Not yet. No names, no teeth, no allergies; nothing to touch. */
export function WallScreen({ clinicName, site, day, snapshot }: WallScreenProps) {
  const again = async (): Promise<HeldBoard> => {
    const fresh = await server.board.wall.query({ siteId: site.id, day })
    return fresh.kind === 'lanes' ? fresh : snapshot
  }
  return (
    <main>
      <LiveProvider
        window={makeWindow({ kind: 'day', siteId: site.id, day })}
        audience="wall"
        zone={site.zone}
        snapshot={snapshot}
        step={stepBoard}
        again={again}
      >
        <Lanes clinicName={clinicName} zone={site.zone} />
      </LiveProvider>
    </main>
  )
}

function Lanes({ clinicName, zone }: { clinicName: string; zone: Zone }) {
  const { board, at } = useJudgedBoard()
  const { freshness } = useLive()
  const now = useMoment()
  return (
    <div className={styles.wall}>
      <header className={styles.head}>
        <h1>{clinicName}</h1>
        <p className={styles.clock}>
          {freshness === 'fresh' ? timeOf(now, zone) : `as of ${timeOf(at, zone)}`}
        </p>
      </header>
      <LanesTable board={board} zone={zone} />
    </div>
  )
}

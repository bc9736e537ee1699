'use client'
import { useMemo } from 'react'
import { SitePick } from '#app/_frame/site-pick.tsx'
import { useJudgingMoment } from '#app/_live/use-moment.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { CautionLine } from '#app/_ui/caution-line.tsx'
import list from '#app/_ui/list.module.css'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import type { FaultCount } from '#shared/trays/fault-count.ts'
import { type Bench, isOpen, loadsOf, sterilisersOf } from './bench.ts'
import { BenchHolder, type BenchHolderProps } from './bench-holder.tsx'
import { FaultsPart } from './faults-part.tsx'
import { ForecastPart } from './forecast-part.tsx'
import { LoadCard } from './load-card.tsx'
import { PacksPart } from './packs-part.tsx'
import { RecallDoors } from './recall-doors.tsx'
import { SetsPart } from './sets-part.tsx'
import { AddSteriliser, SteriliserCard } from './steriliser-card.tsx'
import styles from './sterilising.module.css'

export interface BenchScreenProps extends BenchHolderProps {
  /** What was found wrong on trays in the last weeks, when the screen was opened. */
  faults: FaultCount[]
}

export function BenchScreen(props: BenchScreenProps) {
  return (
    <BenchHolder {...props}>
      <BenchPage {...props} />
    </BenchHolder>
  )
}

function BenchPage({ of, faults }: BenchScreenProps) {
  const { world } = useWorld()
  const now = useJudgingMoment()
  const performing = usePerform()
  const bench = useMemo((): Bench => ({ of, world, now }), [of, world, now])
  const sterilisers = useMemo(() => sterilisersOf(bench), [bench])
  const loads = useMemo(() => loadsOf(bench), [bench])
  const open = loads.filter(isOpen)
  const done = loads.filter((each) => !isOpen(each))
  return (
    <div className={list.page}>
      <header className={styles.head}>
        <h1>Sterilising</h1>
        <SitePick of={of} />
        <nav aria-label="Parts of this page" className={list.parts}>
          <a href="#loads">Loads</a>
          <a href="#sets">Sets today</a>
          <a href="#all-sets">Where the sets are</a>
          <a href="#packs">Packs</a>
          <a href="#faults">Faults found</a>
          <a href="#recall">Recall</a>
        </nav>
      </header>
      <OutcomeBox outcome={performing.outcome} />
      <section aria-labelledby="sterilisers">
        <h2 id="sterilisers">Sterilisers</h2>
        <div className={styles.cards}>
          {sterilisers.map((standing) => (
            <SteriliserCard
              key={standing.steriliser.id}
              {...standing}
              bench={bench}
              performing={performing}
            />
          ))}
        </div>
        <AddSteriliser of={of} performing={performing} first={sterilisers.length === 0} />
      </section>
      <section aria-labelledby="loads">
        <h2 id="loads">
          Loads in hand <span>{open.length}</span>
        </h2>
        {open.length === 0 ? <p className={list.small}>No load is running or waits to be released.</p> : null}
        <div className={styles.cards}>
          {open.map((standing) => (
            <LoadCard key={standing.load.id} {...standing} bench={bench} performing={performing} />
          ))}
        </div>
        <details>
          <summary className={list.more}>Released or failed lately: {done.length}</summary>
          <div className={styles.cards}>
            {done.map((standing) => (
              <LoadCard key={standing.load.id} {...standing} bench={bench} performing={performing} />
            ))}
          </div>
        </details>
      </section>
      <ForecastPart bench={bench} performing={performing} />
      <SetsPart bench={bench} performing={performing} />
      <PacksPart bench={bench} performing={performing} />
      <FaultsPart faults={faults} />
      <RecallDoors bench={bench} />
      <CautionLine />
    </div>
  )
}

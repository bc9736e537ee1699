'use client'
import type { DayOf } from '#app/_live/day-of.ts'
import { useLive } from '#app/_live/provider.tsx'
import { useMoment } from '#app/_live/use-moment.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { Button } from '#app/_ui/button.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { timeOf } from '#app/_ui/time-words.ts'
import { addMinutes, type Minutes } from '#shared/base/moment.ts'
import styles from './clock-panel.module.css'

const STEPS: readonly { minutes: Minutes; words: string }[] = [
  { minutes: 1, words: '1 min on' },
  { minutes: 5, words: '5 min on' },
  { minutes: 15, words: '15 min on' },
  { minutes: 60, words: '1 h on' },
  { minutes: -15, words: '15 min back' },
]

/** The invented clinic's clock, and how far it can be moved. */
export default function ClockSteps({ of }: { of: DayOf }) {
  const { now } = useLive()
  const moment = useMoment()
  const { perform, outcome, busy } = usePerform()
  return (
    <section className={styles.panel} aria-labelledby="clock-panel">
      <h2 id="clock-panel">Invented clinic: move the clock for all screens</h2>
      <p>{timeOf(moment, of.site.zone)}</p>
      <div className={styles.steps}>
        {STEPS.map(({ minutes, words }) => (
          <Button
            key={words}
            size="small"
            isDisabled={busy}
            onPress={() =>
              perform('clock.move', { to: addMinutes(now(), minutes) }, `The clock is moved, ${words}.`)
            }
          >
            {words}
          </Button>
        ))}
      </div>
      <OutcomeBox outcome={outcome} />
    </section>
  )
}

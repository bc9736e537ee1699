import type { Seen } from '#app/_live/seen.ts'
import { WeirButton } from '#app/_marks/weir-button.tsx'
import { Mark } from '#app/_ui/mark.tsx'
import { spanWords, timeOf } from '#app/_ui/time-words.ts'
import { minutesBetween } from '#shared/base/moment.ts'
import { ACTOR_WORDS, STAGE_WORDS } from '#shared/words/en/states.ts'
import { say } from '#shared/words/en.ts'
import styles from './plan.module.css'

/** How the appointment stands for its next gate, in one line. */
export function Standing({ seen }: { seen: Seen }) {
  const { line } = seen.readiness
  return (
    <div className={styles.standing} data-state={line.state}>
      <WeirButton planks={line.planks} />
      <Mark of={line.state} gate={line.gate} />
      <p className={styles.says}>{line.missing ? say(line.missing) : null}</p>
      <p className={styles.aside}>
        {line.next && line.state !== 'ready' ? `${turn(seen)} next · ` : null}
        {STAGE_WORDS[line.stage]}
        {line.stage === 'expected' ? ` ${timeOf(line.start, seen.zone)}` : sinceWords(seen)}
      </p>
    </div>
  )
}

function turn({ readiness: { line }, nameOf }: Seen): string {
  if (line.owner) return nameOf(line.owner)
  return line.next ? ACTOR_WORDS[line.next] : ''
}

function sinceWords({ readiness: { line }, zone, now }: Seen): string {
  const minutes = minutesBetween(line.stageSince, now)
  return ` since ${timeOf(line.stageSince, zone)}${minutes > 0 ? `, ${spanWords(minutes)}` : ''}`
}

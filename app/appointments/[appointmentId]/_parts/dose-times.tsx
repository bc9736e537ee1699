import type { Seen } from '#app/_live/seen.ts'
import { timeOf } from '#app/_ui/time-words.ts'
import { Why } from '#app/_ui/why.tsx'
import type { Dose } from '#shared/anaesthesia/anaesthetic.ts'
import { feelsAgainAt, workingTimeOf, worksFrom, worksUntil } from '#shared/anaesthesia/timing.ts'
import { instant } from '#shared/base/moment.ts'
import styles from './plan.module.css'

/** The printed times of one injection. They say when to look again, never that it works. */
export function DoseTimes({ dose, seen }: { dose: Dose; seen: Seen }) {
  const printed = workingTimeOf(dose)
  if (printed === null || dose.technique === 'topical') return null
  const recheck = seen.facts.policy?.anaesthesia.recheckMinutes ?? 0
  return (
    <p className={styles.aside}>
      By print: to work from {timeOf(worksFrom(dose), seen.zone)}; the tooth is looked at again by{' '}
      {timeOf(worksUntil(dose, recheck), seen.zone)}. <Why rule="printed times" source={printed.source} />
    </p>
  )
}

/** Until when lip and tongue may stay numb, at the latest printed time of what was given. */
export function FeelsAgain({ seen }: { seen: Seen }) {
  const { doses } = seen.facts
  const times = doses.map(feelsAgainAt)
  if (times.length === 0) return null
  const latest = times.includes(null) ? null : instant(Math.max(...times.map(Number)))
  return (
    <p>
      {latest === null
        ? 'Until when it stays numb is not printed for what was given: the dentist says it.'
        : `Lip and tongue may stay numb until about ${timeOf(latest, seen.zone)}, at the latest printed time.`}{' '}
      Nothing hot, no chewing or sucking the lip; watch a child.
    </p>
  )
}

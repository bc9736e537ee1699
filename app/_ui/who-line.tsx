'use client'
import { useLive } from '#app/_live/provider.tsx'
import { clockTimeOf, type Instant } from '#shared/base/moment.ts'
import type { Finding } from '#shared/finding.ts'
import styles from './trouble-box.module.css'

/** Whose hands something is in, and since when, where a refusal names them: `J. Petrescu, since 08:52`. */
export function WhoLine({ finding }: { finding: Finding }) {
  const { held, zone } = useLive()
  const { by, since } = namedIn(finding)
  if (!('world' in held) || by === null) return null
  const name = held.world.member.find((member) => member.id === by)?.shortName
  if (name === undefined) return null
  return (
    <p className={styles.aside}>
      {name}
      {since === null ? '' : `, since ${clockTimeOf(since, zone)}`}
    </p>
  )
}

function namedIn(finding: Finding): { by: string | null; since: Instant | null } {
  const { by, since } = finding as { by?: unknown; since?: unknown }
  return {
    by: typeof by === 'string' ? by : null,
    since: typeof since === 'number' ? (since as Instant) : null,
  }
}

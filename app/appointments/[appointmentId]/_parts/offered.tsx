import type { ReactNode } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import { keyed } from '#app/_ui/finding-keys.ts'
import { FindingLine } from '#app/_ui/finding-line.tsx'
import type { Finding } from '#shared/finding.ts'
import { can, type Permission } from '#shared/people/role.ts'
import styles from './plan.module.css'

/** Whose it is, where the one who looks may not do it. */
const WHOSE: Partial<Record<Permission, string>> = {
  'day:change': 'the desk says it',
  'patient:identify': 'someone at the chair records it',
  'patient:allergies': 'the desk or someone at the chair records it',
  'dam:place': 'whoever places the dam records it',
  'needle:use': 'whoever gives it records it',
  'plan:choose': 'the dentist says it',
  'word:give': 'the dentist says it',
  'work:start': 'whoever does the work records it',
  'numbness:record': 'someone at the chair records it',
}

interface OfferedProps {
  seen: Seen
  needs: Permission
  /** What it is, as the beginning of a line: `Seated`. */
  what: string
  /** What the command would refuse it for now. */
  shut?: readonly Finding[]
  children: ReactNode
}

/** An act that would be taken; else whose it is, or what comes first. */
export function Offered({ seen, needs, what, shut = [], children }: OfferedProps) {
  if (!can(seen.member.roles, needs)) {
    return (
      <p className={styles.aside}>
        {what}: {WHOSE[needs] ?? 'somebody else'}.
      </p>
    )
  }
  if (shut.length === 0) return children
  return (
    <section className={styles.notYet} aria-label={`Before “${what}”`}>
      <h3>Before “{what}”</h3>
      <ul className={styles.findings}>
        {keyed(shut).map(({ key, finding }) => (
          <li key={key}>
            <FindingLine finding={finding} quiet={finding.level !== 'stop'} />
          </li>
        ))}
      </ul>
    </section>
  )
}

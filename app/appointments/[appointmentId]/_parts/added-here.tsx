'use client'
import type { Seen } from '#app/_live/seen.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { can } from '#shared/people/role.ts'
import type { Appointment } from '#shared/schedule/appointment.ts'
import styles from './plan.module.css'
import { TakeOrSuggest } from './take-or-suggest.tsx'

/** One quiet notice on the page that is open at a chair: someone was added to it. Without a name, for it is another patient's page. */
export function AddedHere({ seen }: { seen: Seen }) {
  const { world } = useWorld()
  const { appointment, operatory } = seen.facts
  if (operatory === null || !can(seen.member.roles, 'patient:identify')) return null
  return world.appointment
    .filter(
      (each) =>
        each.status === 'pending' &&
        each.operatoryId === operatory.id &&
        each.day === appointment.day &&
        each.id !== appointment.id,
    )
    .map((each) => <Added key={each.id} added={each} />)
}

function Added({ added }: { added: Appointment }) {
  const performing = usePerform()
  const { startsAt, minutes } = added
  return (
    <section className={styles.act} aria-label={`Added for ${startsAt}`}>
      <p>
        Added to this chair for <strong>{startsAt}</strong>, {minutes} min, not accepted.
      </p>
      <TakeOrSuggest appointment={added} performing={performing} />
      <OutcomeBox outcome={performing.outcome} />
    </section>
  )
}

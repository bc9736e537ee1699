'use client'
import { useState } from 'react'
import type { Seen } from '#app/_live/seen.ts'
import { usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Field } from '#app/_ui/field.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import type { Finding } from '#shared/finding.ts'
import { can } from '#shared/people/role.ts'
import { canOverride, findingKey } from '#shared/readiness/override.ts'
import { isStep } from '#shared/readiness/steps.ts'
import styles from './plan.module.css'

/** The dentist of this appointment passes over an open question as it stands, with a reason that is kept. */
export function PassOver({ finding, seen }: { finding: Finding; seen: Seen }) {
  const performing = usePerform()
  const [reason, setReason] = useState('')
  if (!mayPassOver(finding, seen)) return null
  return (
    <details>
      <summary className={styles.more}>Pass over it, with a reason</summary>
      <div className={styles.act}>
        <Field label="The reason, which is kept" value={reason} onChange={setReason} />
        <ActButton
          kind="rule.override"
          input={{
            appointmentId: seen.facts.appointment.id,
            rule: finding.rule,
            about: finding.about,
            saw: findingKey(finding),
            reason: reason.trim(),
          }}
          performing={performing}
          isDisabled={reason.trim() === ''}
          done="Passed over; the reason is kept."
        >
          Pass over it
        </ActButton>
        <OutcomeBox outcome={performing.outcome} />
      </div>
    </details>
  )
}

/** Only what is judged to be open: a question of the plan alone is answered, not passed over. */
const mayPassOver = (finding: Finding, { facts, readiness, member }: Seen): boolean =>
  can(member.roles, 'word:give') &&
  facts.appointment.dentistId === member.id &&
  finding.level !== 'note' &&
  !isStep(finding.rule) &&
  canOverride(finding.rule) &&
  readiness.open.includes(finding)

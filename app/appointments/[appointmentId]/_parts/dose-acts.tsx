'use client'
import { useState } from 'react'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Button } from '#app/_ui/button.tsx'
import { timeOf } from '#app/_ui/time-words.ts'
import { can } from '#shared/people/role.ts'
import type { ActProps } from './act-props.ts'
import { DoseCheck } from './dose-check.tsx'
import { leftOf } from './dose-draft.ts'
import { DoseTimes } from './dose-times.tsx'
import { Giving } from './giving.tsx'
import { Offered } from './offered.tsx'
import styles from './plan.module.css'
import { amountWords, doseWords } from './solutions.ts'

/** What is given, or that nothing is, by intent. */
export function DoseActs({ seen, performing }: ActProps) {
  const { anaesthetic, doses } = seen.facts
  // Another plan, or another injection in, is chosen from anew.
  const stands = JSON.stringify([anaesthetic?.planned ?? [], doses.length])
  const giving = <Giving key={stands} seen={seen} performing={performing} />
  return (
    <div className={styles.act}>
      <h3>Anaesthetic</h3>
      {doses.map((dose) => (
        <div key={dose.id}>
          <p className={styles.done}>
            {timeOf(dose.at, seen.zone)} {amountWords(dose)}, {doseWords(dose, seen.notation)},{' '}
            {seen.nameOf(dose.by)}
          </p>
          <DoseTimes dose={dose} seen={seen} />
        </div>
      ))}
      {anaesthetic?.intent.kind === 'none' ? (
        <p>No injection, by intent: {anaesthetic.intent.reason}.</p>
      ) : null}
      <DoseCheck seen={seen} />
      <Offered seen={seen} needs="needle:use" what="What is given">
        {doses.length === 0 || leftOf(seen).length > 0 ? (
          giving
        ) : (
          <details>
            <summary className={styles.more}>Another injection</summary>
            {giving}
          </details>
        )}
      </Offered>
      {doses.length === 0 && anaesthetic?.intent.kind !== 'none' && can(seen.member.roles, 'plan:choose') ? (
        <NoneByIntent seen={seen} performing={performing} />
      ) : null}
    </div>
  )
}

const REASONS = ['Patient wishes none', 'No drilling planned', 'Tooth without a living pulp']

function NoneByIntent({ seen, performing }: ActProps) {
  const [open, setOpen] = useState(false)
  if (!open) return <Button onPress={() => setOpen(true)}>No injection, by intent</Button>
  return (
    <div className={styles.choices}>
      {REASONS.map((reason) => (
        <ActButton
          key={reason}
          kind="anaesthetic.none-by-intent"
          input={{ appointmentId: seen.facts.appointment.id, reason, topicalAtClamp: true }}
          performing={performing}
          done="No injection, by intent; topical where the clamp sits."
        >
          {reason}
          <small>topical where the clamp sits</small>
        </ActButton>
      ))}
    </div>
  )
}

'use client'
import { ActButton } from '#app/_ui/act-button.tsx'
import { timeOf } from '#app/_ui/time-words.ts'
import type { MemberId } from '#shared/ids.ts'
import { findStaying } from '#shared/readiness/staying.ts'
import type { ActProps } from './act-props.ts'
import { Offered } from './offered.tsx'
import styles from './plan.module.css'

/** After the needle somebody stays: one touch by whoever does. */
export function StayAct({ seen, performing }: ActProps) {
  const isOpen = seen.readiness.open.some(({ rule }) => rule === 'numbness/nobody-stays')
  const staying = findStaying(seen.facts)
  if (seen.facts.doses.length === 0) return null
  if (!isOpen) {
    if (staying === null) return null
    const name = seen.nameOf(staying.answer as MemberId)
    return (
      <p className={styles.done}>
        {name} stays with the patient, since {timeOf(staying.at, seen.zone)}
      </p>
    )
  }
  return (
    <Offered seen={seen} needs="patient:identify" what="Who stays with the patient">
      <ActButton
        kind="stay.name"
        input={{ appointmentId: seen.facts.appointment.id, memberId: seen.member.id }}
        performing={performing}
        done="You stay with the patient."
      >
        I stay with the patient
        <small>nobody is left alone after the needle</small>
      </ActButton>
    </Offered>
  )
}

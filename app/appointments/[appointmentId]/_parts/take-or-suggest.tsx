'use client'
import { useState } from 'react'
import type { Performing } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { type ClockTime, clockTimeAfter } from '#shared/base/moment.ts'
import { shownPlace } from '#shared/readiness/shown.ts'
import type { Appointment } from '#shared/schedule/appointment.ts'
import styles from './plan.module.css'

/** Minutes later that are offered by touch; any other time is the desk's to give. */
const LATER = [10, 20, 30, 60] as const

/** What the chair team may say to an appointment that was squeezed in: yes, or rather later. */
export function TakeOrSuggest({
  appointment,
  performing,
}: {
  appointment: Appointment
  performing: Performing
}) {
  const [suggested, setSuggested] = useState<ClockTime | null>(null)
  const { id, startsAt } = appointment
  return (
    <div className={styles.choices}>
      <ActButton
        kind="appointment.accept"
        input={{ appointmentId: id, saw: shownPlace(appointment) }}
        performing={performing}
        done="Accepted."
      >
        We take it at {startsAt}
      </ActButton>
      {LATER.map((minutes) => {
        const time = clockTimeAfter(startsAt, minutes)
        return (
          <ActButton
            key={minutes}
            kind="appointment.suggest-time"
            input={{ appointmentId: id, startsAt: time }}
            performing={performing}
            aria-pressed={time === suggested}
            aria-label={`Rather at ${time}`}
            done={`${time} is suggested; the desk moves it.`}
            onDone={() => setSuggested(time)}
          >
            Rather {time}
          </ActButton>
        )
      })}
    </div>
  )
}

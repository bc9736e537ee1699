'use client'
import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { usePerform } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { Card } from '#app/_ui/card.tsx'
import { Field } from '#app/_ui/field.tsx'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { timeOf } from '#app/_ui/time-words.ts'
import type { Instant, Zone } from '#shared/base/moment.ts'
import type { CalendarAddressId } from '#shared/ids.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'
import styles from '../../_parts/day.module.css'

/** A calendar that is fetched by itself, and how its last round went. */
export interface FollowedCalendar {
  id: CalendarAddressId
  source: string
  host: string
  everyMinutes: number
  round: { at: Instant; failure: string | null } | null
}

export interface CalendarsPartProps {
  calendars: FollowedCalendar[]
  notation: Notation
  zone: Zone
  /** Which hosts may be asked is the manager's to say. */
  maySet: boolean
}

/** Calendars by address: where each comes from, how the last round went, and what keeps one from coming. */
export function CalendarsPart({ calendars, notation, zone, maySet }: CalendarsPartProps) {
  const performing = usePerform()
  const router = useRouter()
  const [source, setSource] = useState('')
  const [address, setAddress] = useState('')
  const [every, setEvery] = useState('15')
  return (
    <Card title={`Calendars fetched by themselves: ${calendars.length}`}>
      <OutcomeBox outcome={performing.outcome} />
      <ul className={styles.rows}>
        {calendars.map(({ id, source: name, host, everyMinutes, round }) => (
          <li key={id} className={styles.problem}>
            <strong>{name}</strong>
            <p className={styles.small}>
              {host}, every {everyMinutes} minutes
              {round ? `, last at ${timeOf(round.at, zone)}` : ', not fetched yet'}
            </p>
            {round?.failure ? <p>{round.failure}</p> : null}
            {maySet ? (
              <ActButton
                kind="calendar.leave"
                input={{ calendarId: id }}
                performing={performing}
                done={`${name} is fetched no more.`}
                onDone={() => router.refresh()}
              >
                Fetch no more
              </ActButton>
            ) : null}
          </li>
        ))}
      </ul>
      {maySet ? (
        <div className={styles.known}>
          <Field label="Calendar’s source" value={source} onChange={setSource} />
          <Field label="Its address" value={address} onChange={setAddress} hint="https:// or webcal://" />
          <Field label="Every so many minutes" value={every} onChange={setEvery} inputMode="numeric" />
          <ActButton
            kind="calendar.follow"
            input={{ source, address, notation, hosts: [], everyMinutes: Number(every) }}
            performing={performing}
            isDisabled={source.trim() === '' || address.trim() === '' || !(Number(every) >= 5)}
            done="It is fetched at the next round."
            onDone={() => router.refresh()}
          >
            Fetch by itself
          </ActButton>
        </div>
      ) : null}
    </Card>
  )
}

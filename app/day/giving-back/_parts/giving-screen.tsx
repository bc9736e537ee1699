'use client'
import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { server } from '#app/_live/server.ts'
import { type Trouble, troubleOf } from '#app/_live/trouble.ts'
import { Button } from '#app/_ui/button.tsx'
import { Card } from '#app/_ui/card.tsx'
import { TroubleBox } from '#app/_ui/trouble-box.tsx'
import type { Day } from '#shared/base/moment.ts'
import styles from '../../_parts/day.module.css'

/** A day that can be given out as a calendar. */
export interface FeedLine {
  kind: 'operatory' | 'dentist'
  targetId: string
  name: string
  /** Whether it has an address now. */
  made: boolean
}

export interface GivingScreenProps {
  day: Day
  lines: FeedLine[]
  mayNameAllergies: boolean
}

/** The day as files, and calendars under secret addresses. */
export function GivingScreen({ day, lines, mayNameAllergies }: GivingScreenProps) {
  return (
    <div className={styles.day}>
      <h1>Give the day back</h1>
      <Card title={`The day as a file: ${day}`}>
        <ul className={styles.rows}>
          <li>
            <a href={`/api/export/day.csv?day=${day}`}>CSV for a spreadsheet</a>, without allergies
          </li>
          <li>
            <a href={`/api/export/day.ics?day=${day}`}>iCalendar</a>, without allergies
          </li>
          {mayNameAllergies ? (
            <li>
              <a href={`/api/export/day.fhir.json?day=${day}`}>FHIR R4 Bundle</a>, with allergies
            </li>
          ) : null}
        </ul>
      </Card>
      <Card title="Calendars to subscribe to">
        <p className={styles.small}>
          Whoever knows an address reads it without signing in: times, operatory and kind of work, no
          patient’s name. A new address ends the old one.
        </p>
        {lines.length === 0 ? <p className={styles.small}>None that you may give out.</p> : null}
        <ul className={styles.rows}>
          {lines.map((line) => (
            <FeedRow key={line.targetId} line={line} />
          ))}
        </ul>
      </Card>
    </div>
  )
}

function FeedRow({ line }: { line: FeedLine }) {
  const router = useRouter()
  const [address, setAddress] = useState<string | null>(null)
  const [trouble, setTrouble] = useState<Trouble | null>(null)
  const [busy, setBusy] = useState(false)
  const { kind, targetId, name, made } = line
  const act = async (work: () => Promise<string | null>) => {
    setBusy(true)
    setTrouble(null)
    try {
      setAddress(await work())
      router.refresh()
    } catch (error) {
      setTrouble(troubleOf(error))
    }
    setBusy(false)
  }
  const make = async (): Promise<string> => {
    const { path } = await server.feeds.make.mutate({ kind, targetId })
    return new URL(path, window.location.href).href
  }
  const revoke = async (): Promise<null> => {
    await server.feeds.revoke.mutate({ kind, targetId })
    return null
  }
  return (
    <li className={styles.problem}>
      <strong>{name}</strong>
      {trouble ? <TroubleBox trouble={trouble} /> : null}
      {address ? (
        <p>
          Shown this once: <code>{address}</code>
        </p>
      ) : null}
      <div className={styles.known}>
        <Button isDisabled={busy} onPress={() => act(make)} aria-label={`New address for ${name}`}>
          {made ? 'New address' : 'Give it an address'}
        </Button>
        {made ? (
          <Button isDisabled={busy} onPress={() => act(revoke)} aria-label={`Revoke the address of ${name}`}>
            Revoke
          </Button>
        ) : null}
      </div>
    </li>
  )
}

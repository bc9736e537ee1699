import { Card } from '#app/_ui/card.tsx'
import { whenWords } from '#app/_ui/time-words.ts'
import type { Day, Instant, Zone } from '#shared/base/moment.ts'
import styles from '../../_parts/day.module.css'
import { type FeedLine, FeedRow } from './feed-row.tsx'

/** One line of the record of who gave out what. */
export interface GivenOut {
  at: Instant
  act: 'made' | 'revoked'
  detail: boolean
  by: string
  of: string
}

export interface GivingScreenProps {
  day: Day
  zone: Zone
  lines: FeedLine[]
  mayNameAllergies: boolean
  mayNamePatients: boolean
  /** Null where it is not this person's to read. */
  givenOut: GivenOut[] | null
}

/** The day as files, and calendars under secret addresses. */
export function GivingScreen(props: GivingScreenProps) {
  const { day, zone, lines, mayNameAllergies, mayNamePatients, givenOut } = props
  return (
    <div className={styles.day}>
      <h1>Give the day back</h1>
      <Card title={`The day as a file: ${day}`}>
        <ul className={styles.files}>
          <li>
            <a href={`/api/export/day.csv?day=${day}`} className={styles.open}>
              CSV for a spreadsheet
            </a>
            <span className={styles.small}>without allergies</span>
          </li>
          <li>
            <a href={`/api/export/day.ics?day=${day}`} className={styles.open}>
              iCalendar
            </a>
            <span className={styles.small}>without allergies</span>
          </li>
          {mayNameAllergies ? (
            <li>
              <a href={`/api/export/day.fhir.json?day=${day}`} className={styles.open}>
                FHIR R4 Bundle
              </a>
              <span className={styles.small}>with allergies</span>
            </li>
          ) : null}
        </ul>
      </Card>
      <Card title="Calendars to subscribe to">
        <p className={styles.small}>
          Whoever knows an address reads it without signing in: times, operatory and kind of work, no
          patient’s name unless you give it one that names them. A new address ends the old one.
        </p>
        {lines.length === 0 ? <p className={styles.small}>None that you may give out.</p> : null}
        <ul className={styles.feeds}>
          {lines.map((line) => (
            <FeedRow key={line.targetId} line={line} mayNamePatients={mayNamePatients} />
          ))}
        </ul>
      </Card>
      {givenOut ? <GivenOutCard givenOut={givenOut} zone={zone} /> : null}
    </div>
  )
}

function GivenOutCard({ givenOut, zone }: { givenOut: GivenOut[]; zone: Zone }) {
  return (
    <Card title="Who gave out which days">
      {givenOut.length === 0 ? <p className={styles.small}>Nobody yet.</p> : null}
      <ul className={styles.rows}>
        {givenOut.map(({ at, act, detail, by, of }) => (
          <li key={`${at} ${act} ${of}`}>
            {whenWords(at, zone)}: {by} {act === 'made' ? 'gave out' : 'took back'} {of}
            {detail ? ', with patients’ names' : ''}
          </li>
        ))}
      </ul>
    </Card>
  )
}

'use client'
import Link from 'next/link'
import { useState } from 'react'
import { SitePick } from '#app/_frame/site-pick.tsx'
import { DayLive, type DaySnapshot } from '#app/_live/day-holder.tsx'
import type { DayOf } from '#app/_live/day-of.ts'
import { Button } from '#app/_ui/button.tsx'
import { Dialog } from '#app/_ui/dialog.tsx'
import { dayWords } from '#app/_ui/time-words.ts'
import type { RosterDay } from '#server/trpc/roster-router.ts'
import { type Day, dayAfter } from '#shared/base/moment.ts'
import { ROLE_WORDS } from '#shared/words/en/states.ts'
import styles from '../../_parts/day.module.css'
import { AwayForm } from './away-form.tsx'
import { HoursForm } from './hours-form.tsx'
import type { OfPerson } from './of-person.ts'
import { spanText } from './spans.ts'

export interface RosterScreenProps {
  of: DayOf
  snapshot: DaySnapshot
  day: Day
  roster: RosterDay
}

/** Who works when on a day, who is away, and whose visits stand. */
export function RosterScreen({ of, snapshot, day, roster }: RosterScreenProps) {
  return (
    <DayLive of={of} snapshot={snapshot}>
      <div className={styles.day}>
        <header className={styles.head}>
          <div>
            <h1>Who works when</h1>
            <p>{dayWords(day)}</p>
          </div>
          <SitePick of={of} />
          <nav className={styles.ways} aria-label="Other days">
            <OtherDay day={dayAfter(day, -1)}>Day before</OtherDay>
            {day === of.day ? null : <OtherDay day={of.day}>Today</OtherDay>}
            <OtherDay day={dayAfter(day, 1)}>Day after</OtherDay>
          </nav>
        </header>
        <ul className={styles.rows}>
          {roster.people.map((person) => (
            <PersonRow
              key={person.memberId}
              person={person}
              visits={roster.visits.filter(({ dentistId }) => dentistId === person.memberId)}
              of={of}
              day={day}
            />
          ))}
        </ul>
      </div>
    </DayLive>
  )
}

function OtherDay({ day, children }: { day: Day; children: string }) {
  return (
    <Link href={`/day/roster?day=${day}`} className={styles.open} prefetch={false}>
      {children}
    </Link>
  )
}

function PersonRow(props: OfPerson) {
  const { person, visits, of, day } = props
  const { shortName, roles, hours, away } = person
  const [open, setOpen] = useState<'hours' | 'away' | null>(null)
  const close = () => setOpen(null)
  const when = day === of.day ? 'today' : `on ${dayWords(day)}`
  return (
    <li className={styles.rostered} data-away={away.length > 0 || undefined} aria-label={shortName}>
      <div>
        <p className={styles.who}>{shortName}</p>
        <p className={styles.small}>{roles.map((role) => ROLE_WORDS[role]).join(', ')}</p>
      </div>
      <div>
        <p>{hours.length === 0 ? 'Not on the roster' : hours.map(spanText).join(', ')}</p>
        {away.map((each) => (
          <p key={each.from}>
            <strong>Away {spanText(each)}</strong>{' '}
            <span className={styles.small}>said by {of.names[each.by] ?? 'somebody who has left'}</span>
          </p>
        ))}
        <p className={styles.small}>{visitsWords(visits.length)}</p>
      </div>
      <div className={styles.acts}>
        <Button onPress={() => setOpen('hours')} aria-label={`Hours of ${shortName}`}>
          Hours
        </Button>
        <Button onPress={() => setOpen('away')} aria-label={`${shortName} is away ${when}`}>
          Is away
        </Button>
      </div>
      <Dialog title={`${shortName}: hours ${when}`} isOpen={open === 'hours'} onClose={close}>
        <HoursForm {...props} onDone={close} />
      </Dialog>
      <Dialog title={`${shortName} is away ${when}`} isOpen={open === 'away'} onClose={close}>
        <AwayForm {...props} onDone={close} />
      </Dialog>
    </li>
  )
}

const visitsWords = (count: number): string =>
  count === 0 ? 'no visits' : count === 1 ? '1 visit' : `${count} visits`

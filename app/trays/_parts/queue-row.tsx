import Link from 'next/link'
import type { DayOf } from '#app/_live/day-of.ts'
import type { Performing } from '#app/_live/use-perform.ts'
import { ActButton } from '#app/_ui/act-button.tsx'
import { operatoryWords } from '#app/_ui/labels.ts'
import list from '#app/_ui/list.module.css'
import { spanWords, timeOf } from '#app/_ui/time-words.ts'
import { ToothFrame } from '#app/_ui/tooth-frame.tsx'
import { workWords } from '#app/_ui/work-words.ts'
import { addMinutes, type Instant, minutesBetween } from '#shared/base/moment.ts'
import type { Tray } from '#shared/trays/tray.ts'
import { STATE_WORDS } from '#shared/words/en/trays.ts'
import { isFree, NEAR, type Queued } from './queue.ts'
import styles from './trays.module.css'

export interface QueueRowProps {
  queued: Queued
  of: DayOf
  now: Instant
  performing: Performing
}

export function QueueRow({ queued, of, now, performing }: QueueRowProps) {
  const { facts, tray } = queued
  return (
    <li className={`${list.row} ${styles.row}`} data-tone={isOverdue(queued, now) ? 'ask' : undefined}>
      <StartBy queued={queued} of={of} now={now} />
      <Link href={`/trays/${facts.appointment.id}`} className={styles.what} prefetch={false}>
        <span className={list.small}>
          {operatoryWords(facts.operatory?.name)} · {timeOf(facts.appointment.start, of.site.zone)} ·{' '}
          {facts.dentist?.shortName ?? 'no dentist yet'}
        </span>
        {facts.work.map((work) => (
          <span key={work.id} className={styles.title}>
            {workWords(work)} <ToothFrame teeth={work.teeth} notation={of.clinic.notation} />
          </span>
        ))}
      </Link>
      <p className={styles.state}>
        <span>
          <strong>{STATE_WORDS[tray.life.kind]}</strong> {whoHas(tray, of)}
        </span>
        <span className={list.small}>
          {tray.done} of {tray.of}
          {tray.firstMissing ? ` · ${tray.firstMissing}` : ''}
          {tray.standby ? ' · stands by, sealed' : ''}
        </span>
        {tray.life.kind === 'held' ? <span className={styles.held}>{tray.life.why}</span> : null}
      </p>
      {isFree(queued) ? (
        <ActButton
          kind="tray.claim"
          input={{ trayId: tray.id }}
          performing={performing}
          size="main"
          tone={isDue(queued, now) ? 'ink' : 'plain'}
          done="The tray is yours."
        >
          Claim
        </ActButton>
      ) : (
        <Link href={`/trays/${facts.appointment.id}`} className={list.open} data-size="main" prefetch={false}>
          Open
        </Link>
      )}
    </li>
  )
}

const isDue = (queued: Queued, now: Instant): boolean =>
  queued.startBy === null || queued.startBy <= addMinutes(now, NEAR)

const isOverdue = (queued: Queued, now: Instant): boolean =>
  isFree(queued) && queued.startBy !== null && now > queued.startBy

function StartBy({ queued, of, now }: Omit<QueueRowProps, 'performing'>) {
  if (queued.startBy === null) return <p className={styles.by}>no time set</p>
  const left = minutesBetween(now, queued.startBy)
  return (
    <p className={styles.by}>
      <span className={list.small}>begin by</span>
      <strong>{timeOf(queued.startBy, of.site.zone)}</strong>
      <span className={list.small}>{left >= 0 ? `in ${spanWords(left)}` : `${spanWords(-left)} ago`}</span>
    </p>
  )
}

/** Whose hands it is in, and since when. */
function whoHas({ life }: Tray, of: DayOf): string {
  const name = 'by' in life ? of.names[life.by] : undefined
  if (name === undefined) return ''
  const at = life.kind === 'claimed' ? life.since : 'at' in life ? life.at : null
  return at === null ? `by ${name}` : `by ${name} since ${timeOf(at, of.site.zone)}`
}

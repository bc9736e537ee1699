'use client'
import Link from 'next/link'
import { useMemo } from 'react'
import type { Performing } from '#app/_live/use-perform.ts'
import { FindingLine } from '#app/_ui/finding-line.tsx'
import { operatoryWords } from '#app/_ui/labels.ts'
import list from '#app/_ui/list.module.css'
import { timeOf } from '#app/_ui/time-words.ts'
import { findFact } from '#shared/facts.ts'
import { isDown } from '#shared/sterility/day-forecast.ts'
import type { Mend, Shortage } from '#shared/sterility/forecast.ts'
import type { PackKind } from '#shared/sterility/sterility-facts.ts'
import { turnaroundOf } from '#shared/sterility/turnaround.ts'
import { KIND_WORDS } from '#shared/words/en/sterility.ts'
import { type Bench, forecastOf, type KindForecast } from './bench.ts'
import { countWords } from './bench-words.ts'
import styles from './sterilising.module.css'
import { TurnaroundForm, turnaroundWords } from './turnaround-form.tsx'

/** The day's sets: what is there, what is still wanted, the first shortage to the minute and what would mend it. */
export function ForecastPart({ bench, performing }: { bench: Bench; performing: Performing }) {
  const kinds = useMemo(() => forecastOf(bench), [bench])
  const down = isDown(bench.world, bench.of.site.id)
  const turnaround = turnaroundOf(bench.world.policySet[0] ?? null)
  return (
    <section aria-labelledby="sets">
      <h2 id="sets">Sets today</h2>
      {down ? (
        <p className={styles.down}>
          No steriliser serves at this site. A set that is used does not come back until one does; the counts
          below are of what is on the shelf.
        </p>
      ) : (
        <p className={list.small}>
          As booked and as late as the board expects. {turnaroundWords(turnaround)}
        </p>
      )}
      <details>
        <summary className={list.more}>How long a set is away</summary>
        <TurnaroundForm turnaround={turnaround} performing={performing} />
      </details>
      {kinds.length === 0 ? <p>Nothing more is wanted today.</p> : null}
      <ul className={list.rows}>
        {kinds.map((kind) => (
          <KindRow key={kind.kind} {...kind} bench={bench} down={down} />
        ))}
      </ul>
    </section>
  )
}

function KindRow({
  kind,
  forecast,
  onShelf,
  findings,
  bench,
  down,
}: KindForecast & { bench: Bench; down: boolean }) {
  const { first, shortages, coversNext, mends } = forecast
  return (
    <li className={`${list.row} ${styles.row}`} data-tone={first === null ? undefined : 'ask'}>
      <strong className={styles.kind}>{KIND_WORDS[kind]}</strong>
      <span>
        {onShelf} sterile on the shelf
        <span className={list.small}>
          {first === null
            ? `enough for the ${countWords(coversNext, 'appointment')} left`
            : `covers the next ${countWords(coversNext, 'appointment')}`}
        </span>
      </span>
      {first === null ? (
        <span className={list.small}>None will be short.</span>
      ) : (
        <div className={styles.shortage}>
          <p>
            <strong>{timeOf(first.at, bench.of.site.zone)}</strong> {first.short} short,{' '}
            {visitWords(first, bench)}
          </p>
          {findings.map((finding) => (
            <FindingLine key={finding.about} finding={finding} />
          ))}
          <p className={list.small}>What would mend it:</p>
          <ul>
            {mends.filter(isOfFirst(first, down)).map((mend) => (
              <li key={mend.kind}>{mendWords(mend, { bench, kind })}</li>
            ))}
          </ul>
          {shortages.length > 1 ? (
            <details>
              <summary className={list.more}>{shortages.length - 1} more later</summary>
              <ul>
                {shortages.slice(1).map((shortage) => (
                  <li key={shortage.id}>
                    {timeOf(shortage.at, bench.of.site.zone)}: {shortage.short} short,{' '}
                    {visitWords(shortage, bench)}
                    {shortage.back === null
                      ? ''
                      : `, enough are back at ${timeOf(shortage.back, bench.of.site.zone)}`}
                  </li>
                ))}
              </ul>
            </details>
          ) : null}
        </div>
      )}
    </li>
  )
}

/** What would mend the first shortage; more sets help against a busy day, not against a steriliser that is down. */
const isOfFirst =
  (first: Shortage, down: boolean) =>
  (mend: Mend): boolean => {
    if (mend.kind === 'move') return mend.id === first.id
    return !(down && mend.kind === 'order')
  }

function visitWords({ id }: Pick<Shortage, 'id'>, { world }: Bench) {
  const appointment = findFact(world, 'appointment', id)
  const operatory = findFact(world, 'operatory', appointment?.operatoryId ?? null)
  return (
    <Link href={`/trays/${id}`} prefetch={false}>
      {operatoryWords(operatory?.name)}
    </Link>
  )
}

/** Other sites by how many sets of a kind they have that are neither dirty, in a chair nor on their way. */
const lendersOf = (kind: PackKind, { of, world }: Bench): string[] =>
  of.sites
    .filter(({ id }) => id !== of.site.id)
    .flatMap(({ id, name }) => {
      const there = world.instrumentSet.filter(
        (set) => set.kind === kind && set.place.kind === 'shelf' && set.place.siteId === id,
      )
      return there.length === 0 ? [] : [`${name} has ${there.length} on the shelf or on trays`]
    })

function mendWords(mend: Mend, { bench, kind }: { bench: Bench; kind: PackKind }) {
  const time = (at: Shortage['at']): string => timeOf(at, bench.of.site.zone)
  switch (mend.kind) {
    case 'move':
      return (
        <>
          Move {visitWords(mend, bench)} to {time(mend.to)}, when enough are back
        </>
      )
    case 'borrow': {
      const lenders = lendersOf(kind, bench)
      return [`Borrow ${countWords(mend.sets, 'set')} by ${time(mend.by)}`, ...lenders].join('; ')
    }
    case 'sooner':
      return (
        <>
          Have the set of {visitWords(mend, bench)} back by {time(mend.by)}: an earlier load
        </>
      )
    case 'order':
      return `With ${countWords(mend.sets, 'set')} more a day like this would not run short: order, if it recurs`
  }
}

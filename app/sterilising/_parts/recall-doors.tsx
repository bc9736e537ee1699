'use client'
import Link from 'next/link'
import { useState } from 'react'
import { Field } from '#app/_ui/field.tsx'
import list from '#app/_ui/list.module.css'
import { Pick } from '#app/_ui/pick.tsx'
import { parseDay } from '#shared/base/moment.ts'
import type { Bench } from './bench.ts'
import styles from './sterilising.module.css'

const ALL = 'all'

/** Where a recall may start from, beside a load and a pack: a steriliser, a day, or both. */
export function RecallDoors({ bench }: { bench: Bench }) {
  const { world, of } = bench
  const [steriliser, setSteriliser] = useState<string>(ALL)
  const [text, setText] = useState<string>(of.day)
  const day = parseDay(text)
  const byDay = new URLSearchParams({ kind: 'day', siteId: of.site.id, day: text })
  if (steriliser !== ALL) byDay.set('steriliserId', steriliser)
  return (
    <section aria-labelledby="recall">
      <h2 id="recall">Recall</h2>
      <p className={list.small}>
        Shows exactly where every pack went. Nothing is held before you say so there. From a load or a pack:
        by its own line above.
      </p>
      <div className={styles.line}>
        <Pick
          label="Steriliser"
          value={steriliser}
          options={[
            { value: ALL, label: 'all of this site' },
            ...world.steriliser.map(({ id, name }) => ({ value: id as string, label: name })),
          ]}
          onPick={setSteriliser}
        />
        <Field
          label="Day"
          type="date"
          value={text}
          onChange={setText}
          wrong={day === null ? 'Enter a date such as 2026-11-24.' : null}
        />
        {day === null ? null : (
          <Link href={`/sterilising/recall?${byDay}`} className={list.open} prefetch={false}>
            Recall from this day
          </Link>
        )}
        {steriliser === ALL ? null : (
          <Link
            href={`/sterilising/recall?${new URLSearchParams({ kind: 'steriliser', steriliserId: steriliser })}`}
            className={list.open}
            prefetch={false}
          >
            Everything of this steriliser
          </Link>
        )}
      </div>
    </section>
  )
}

'use client'
import { useState } from 'react'
import { SitePick } from '#app/_frame/site-pick.tsx'
import { usePerform } from '#app/_live/use-perform.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { Button } from '#app/_ui/button.tsx'
import { Field } from '#app/_ui/field.tsx'
import list from '#app/_ui/list.module.css'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { ScanField } from '#app/_ui/scan-field.tsx'
import { dateWords, timeOf } from '#app/_ui/time-words.ts'
import { dayOf } from '#shared/base/moment.ts'
import type { SiteId } from '#shared/ids.ts'
import { KIND_WORDS } from '#shared/words/en/sterility.ts'
import { StockHolder, type StockHolderProps } from '../../_parts/stock-holder.tsx'
import styles from '../../_parts/trays.module.css'
import { TraysNav } from '../../_parts/trays-nav.tsx'
import { travellingOf } from './travelling.ts'

export function SetsScreen({ of, snapshot }: StockHolderProps) {
  return (
    <StockHolder of={of} snapshot={snapshot}>
      <SetsPage of={of} />
    </StockHolder>
  )
}

/** A set that is scanned has arrived here, or goes to the site that is chosen. */
type Doing = { kind: 'arrive' } | { kind: 'send'; to: SiteId }

function SetsPage({ of }: Pick<StockHolderProps, 'of'>) {
  const performing = usePerform()
  const { world } = useWorld()
  const travelling = travellingOf(world)
  const [doing, setDoing] = useState<Doing>({ kind: 'arrive' })
  const [place, setPlace] = useState('clean side, shelf 1')
  const others = of.sites.filter(({ id }) => id !== of.site.id)
  const nameOf = (id: SiteId): string => of.sites.find((site) => site.id === id)?.name ?? 'another site'
  const scan = async (code: string): Promise<boolean> => {
    const came =
      doing.kind === 'arrive'
        ? await performing.perform('set.arrive', { code, siteId: of.site.id, place }, `${code} is here.`)
        : await performing.perform(
            'set.send',
            { code, to: doing.to },
            `${code} is on its way to ${nameOf(doing.to)}.`,
          )
    return came?.kind === 'done'
  }
  return (
    <div className={list.page}>
      <div className={styles.top}>
        <h1>Sets between sites</h1>
        <SitePick of={of} />
        <TraysNav of={of} here="/trays/sets" />
      </div>
      <OutcomeBox outcome={performing.outcome} />
      <section aria-labelledby="scan">
        <h2 id="scan">Scan a pack, or type the mark of a dirty set</h2>
        <fieldset className={list.acts}>
          <legend className={list.small}>What is scanned next</legend>
          <Button aria-pressed={doing.kind === 'arrive'} onPress={() => setDoing({ kind: 'arrive' })}>
            Has arrived here
            <small>at {of.site.name}</small>
          </Button>
          {others.map(({ id, name }) => (
            <Button
              key={id}
              aria-pressed={doing.kind === 'send' && doing.to === id}
              onPress={() => setDoing({ kind: 'send', to: id })}
            >
              Goes to {name}
            </Button>
          ))}
        </fieldset>
        {doing.kind === 'arrive' ? (
          <Field label="Is put at" value={place} onChange={setPlace} autoComplete="off" />
        ) : null}
        <ScanField
          label="Pack or set"
          act={doing.kind === 'arrive' ? 'Scan it in' : 'Send it'}
          onCode={scan}
        />
      </section>
      <section aria-labelledby="travelling">
        <h2 id="travelling">
          On their way <span>{travelling.length}</span>
        </h2>
        {travelling.length === 0 ? <p className={styles.none}>None is on its way.</p> : null}
        <ul className={list.rows}>
          {travelling.map(({ id, mark, kind, code, to, since }) => (
            <li key={id} className={`${list.row} ${styles.order}`}>
              <strong>{mark}</strong>
              <span>
                {code === null ? 'dirty' : `pack ${code}`}
                <span className={list.small}> · {KIND_WORDS[kind]}</span>
              </span>
              <span>
                to {nameOf(to)}
                <span className={list.small}>
                  {' '}
                  since {dateWords(dayOf(since, of.site.zone))}, {timeOf(since, of.site.zone)}
                </span>
              </span>
            </li>
          ))}
        </ul>
        <p className={list.small}>Until it is scanned in, it is stock of neither site.</p>
      </section>
    </div>
  )
}

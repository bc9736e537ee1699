'use client'
import Link from 'next/link'
import { useEffect, useState } from 'react'
import { server } from '#app/_live/server.ts'
import { type Performing, usePerform } from '#app/_live/use-perform.ts'
import { useWorld } from '#app/_live/use-world.ts'
import { Button } from '#app/_ui/button.tsx'
import { CautionLine } from '#app/_ui/caution-line.tsx'
import { Choice } from '#app/_ui/choice.tsx'
import { FindingLine } from '#app/_ui/finding-line.tsx'
import list from '#app/_ui/list.module.css'
import { OutcomeBox } from '#app/_ui/outcome-box.tsx'
import { bornWords, dateWords, timeOf } from '#app/_ui/time-words.ts'
import type { RecallAsked } from '#server/trpc/recall-asked.ts'
import type { RecallPreview } from '#server/trpc/sterility-router.ts'
import { type Day, dayOf, type Instant } from '#shared/base/moment.ts'
import { findFact, type World } from '#shared/facts.ts'
import { KIND_WORDS } from '#shared/words/en/sterility.ts'
import { BenchHolder, type BenchHolderProps } from '../../_parts/bench-holder.tsx'
import { countWords } from '../../_parts/bench-words.ts'
import styles from '../../_parts/sterilising.module.css'
import { type RecallAct, recallActs } from './recall-acts.ts'

export interface RecallScreenProps extends BenchHolderProps {
  asked: RecallAsked
  preview: RecallPreview
}

export function RecallScreen(props: RecallScreenProps) {
  return (
    <BenchHolder {...props}>
      <RecallPage {...props} />
    </BenchHolder>
  )
}

function RecallPage({ of, asked, preview }: RecallScreenProps) {
  const { world, revision } = useWorld()
  const performing = usePerform()
  const shown = useFreshRecall({ asked, preview, revision })
  const { told, findings, zone } = shown
  const time = (at: Instant): string => `${dateWords(dayOf(at, zone))}, ${timeOf(at, zone)}`
  return (
    <article className={list.page}>
      <header className={styles.head}>
        <div>
          <h1>{titleOf(asked, world)}</h1>
          <p className={list.small}>
            {of.clinic.name}, {of.site.name} · as of {time(shown.at)}
          </p>
        </div>
        <div className={`${list.acts} ${styles.onScreen}`}>
          <Link href="/sterilising" className={list.open} prefetch={false}>
            Back
          </Link>
          <Button onPress={() => window.print()}>Print</Button>
          <a href={`/api/recall?${addressOf(asked)}`} className={list.open} download="recall.csv">
            As a file
          </a>
        </div>
      </header>
      <OutcomeBox outcome={performing.outcome} />
      {findings.map((finding) => (
        <FindingLine key={finding.rule} finding={finding} />
      ))}
      <Acts acts={recallActs(asked, { told, world })} performing={performing} />
      <Table
        title="Patients"
        none="No pack of these was used for a patient."
        heads={['Patient', 'Born', 'Used', 'Operatory', 'Packs']}
        rows={told.patients.map(({ appointmentId, name, born, used, operatory, codes }) => ({
          key: appointmentId,
          cells: [name, bornWords(born as Day | null), time(used), operatory ?? '–', codes.join(', ')],
        }))}
      />
      <Table
        title="Trays"
        none="None of these packs is on a tray."
        heads={['Operatory', 'Starts', 'Take instead']}
        rows={told.trays.map(({ appointmentId, operatory, start, replacements }) => ({
          key: appointmentId,
          cells: [
            operatory ?? '–',
            start === null ? '–' : time(start),
            replacements.length === 0 ? 'none from another load' : replacements.join(', '),
          ],
        }))}
      />
      <Table
        title="Packs"
        none="No pack came out of these loads."
        heads={['Pack', 'Kind', 'Load', 'Where']}
        rows={told.packs.map((row) => ({
          key: row.packId,
          cells: [row.code, wordsOfKind(row.kind), row.load, whereWords(row)],
        }))}
      />
      <Table
        title="Loads"
        none="No load is meant."
        heads={['Load', 'Steriliser', 'Began', 'Stands']}
        rows={told.loads.map(({ id, number, steriliser, started, state }) => ({
          key: id,
          cells: [number, steriliser, time(started), state],
        }))}
      />
      {told.cannotNarrow.length > 0 ? (
        <p>
          Without a load, so that nobody can say whether they belong:{' '}
          <strong>{told.cannotNarrow.join(', ')}</strong>
        </p>
      ) : null}
      <p className={list.small}>
        Operatories: {told.operatories.length === 0 ? 'none' : told.operatories.join(', ')}
      </p>
      <CautionLine />
    </article>
  )
}

/** The preview again whenever the clinic has moved on. */
function useFreshRecall({
  asked,
  preview,
  revision,
}: Pick<RecallScreenProps, 'asked' | 'preview'> & { revision: number }): RecallPreview {
  const [shown, setShown] = useState({ preview, revision })
  useEffect(() => {
    if (shown.revision === revision) return
    let over = false
    server.sterility.recall
      .query(asked)
      .then((fresh) => over || setShown({ preview: fresh, revision }))
      .catch(() => undefined)
    return () => {
      over = true
    }
  }, [asked, revision, shown.revision])
  return shown.preview
}

const addressOf = (asked: RecallAsked): URLSearchParams =>
  new URLSearchParams(Object.entries(asked).flatMap(([key, value]) => (value === null ? [] : [[key, value]])))

function titleOf(asked: RecallAsked, world: World): string {
  switch (asked.kind) {
    case 'load':
      return `Recall from load ${findFact(world, 'load', asked.loadId)?.number ?? ''}`
    case 'pack':
      return `Recall from the load of pack ${findFact(world, 'pack', asked.packId)?.code ?? ''}`
    case 'indicator':
      return 'Recall from a test'
    case 'steriliser':
      return `Recall of everything from ${findFact(world, 'steriliser', asked.steriliserId)?.name ?? 'a steriliser'}`
    case 'day': {
      const name = findFact(world, 'steriliser', asked.steriliserId)?.name
      return `Recall of ${dateWords(asked.day)}${name ? `, ${name}` : ''}`
    }
  }
}

const wordsOfKind = (kind: string): string =>
  Object.hasOwn(KIND_WORDS, kind) ? KIND_WORDS[kind as keyof typeof KIND_WORDS] : kind

function whereWords({ where, place, visit }: RecallPreview['told']['packs'][number]): string {
  switch (where) {
    case 'shelf':
      return place ?? 'on the shelf'
    case 'tray':
      return `on the tray for ${visit?.operatory ?? 'an operatory'}`
    case 'transit':
      return 'on its way to another site'
    case 'used':
      return `used in ${visit?.operatory ?? 'an operatory'}`
    case 'gone':
      return 'held, or no longer on the shelf'
  }
}

interface TableProps {
  title: string
  none: string
  heads: string[]
  rows: { key: string; cells: string[] }[]
}

function Table({ title, none, heads, rows }: TableProps) {
  return (
    <section className={styles.tableOf}>
      <h2>
        {title} <span>{rows.length}</span>
      </h2>
      {rows.length === 0 ? (
        <p className={list.small}>{none}</p>
      ) : (
        <table className={styles.table}>
          <thead>
            <tr>
              {heads.map((head) => (
                <th key={head} scope="col">
                  {head}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map(({ key, cells }) => (
              <tr key={key}>
                {cells.map((cell, column) => (
                  <td key={heads[column]}>{cell}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  )
}

const REASONS = ['A failed test', 'An aborted cycle', 'Packs found wet', 'A wrong programme']

function Acts({ acts, performing }: { acts: RecallAct[]; performing: Performing }) {
  return (
    <div className={`${list.acts} ${styles.onScreen}`}>
      {acts.map((act) => (
        <Choice
          key={act.words}
          words={act.words}
          title={`${act.words}: why?`}
          back="Hold nothing"
          tone="stop"
        >
          {(close) => (
            <>
              <p>
                {countWords(act.packs, 'pack')} not yet used {act.packs === 1 ? 'is' : 'are'} held, and the
                trays they are on.
              </p>
              {REASONS.map((why) => (
                <Button
                  key={why}
                  tone="stop"
                  isDisabled={performing.busy}
                  onPress={async () => {
                    const came = await act.hold(performing, why)
                    if (came?.kind === 'done') close()
                  }}
                >
                  {why}
                </Button>
              ))}
            </>
          )}
        </Choice>
      ))}
    </div>
  )
}

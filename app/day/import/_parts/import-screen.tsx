'use client'
import Link from 'next/link'
import { useRouter } from 'next/navigation'
import { type FormEvent, useEffect, useRef, useState } from 'react'
import { DayLive, type DaySnapshot } from '#app/_live/day-holder.tsx'
import type { DayOf } from '#app/_live/day-of.ts'
import type { Trouble } from '#app/_live/trouble.ts'
import { Button } from '#app/_ui/button.tsx'
import { Field, FieldGroup } from '#app/_ui/field.tsx'
import { NOTATION_WORDS } from '#app/_ui/labels.ts'
import { Pick } from '#app/_ui/pick.tsx'
import { TroubleBox } from '#app/_ui/trouble-box.tsx'
import type { Preview } from '#server/trpc/exchange-router.ts'
import type { OperatoryId } from '#shared/ids.ts'
import { can } from '#shared/people/role.ts'
import type { OwnWord } from '#shared/procedures/work.ts'
import type { ImportBatch, ImportProblem, ImportSource } from '#shared/schedule/import-batch.ts'
import { NOTATIONS, type Notation } from '#shared/teeth/notation-names.ts'
import styles from '../../_parts/day.module.css'
import { previewFile, takeFile, type WholeOf } from './bring.ts'
import { CalendarsPart, type FollowedCalendar } from './calendars-part.tsx'
import { ColumnsPart } from './columns-part.tsx'
import { CoversPart } from './covers-part.tsx'
import { NamesPart } from './names-part.tsx'
import { PreviewPart } from './preview-part.tsx'
import { RunsPart } from './runs-part.tsx'
import { SettleList } from './settle-list.tsx'
import { type UnreadWords, WordsPart } from './words-part.tsx'

export interface ImportScreenProps {
  of: DayOf
  snapshot: DaySnapshot
  /** Rows of earlier files that wait for a person. */
  waiting: ImportProblem[]
  /** Where those rows came from. */
  batches: ImportBatch[]
  sources: ImportSource[]
  /** Those in use, at every site. */
  operatories: { id: OperatoryId; name: string }[]
  unread: UnreadWords[]
  own: OwnWord[]
  runs: ImportBatch[]
  calendars: FollowedCalendar[]
}

export function ImportScreen(props: ImportScreenProps) {
  const { of, snapshot, waiting, sources, operatories } = props
  return (
    <DayLive of={of} snapshot={snapshot}>
      <div className={styles.day}>
        <header className={styles.head}>
          <h1>Read in a day list</h1>
          <Link href="/day/giving-back" className={styles.open} prefetch={false}>
            Give the day back
          </Link>
        </header>
        <Bring of={of} sources={sources.map(({ name }) => name)} operatories={operatories} />
        <SettleList waiting={waiting} origins={{ batches: props.batches, sources, zone: of.site.zone }} />
        <WordsPart unread={props.unread} own={props.own} />
        <CalendarsPart
          calendars={props.calendars}
          notation={of.clinic.notation}
          zone={of.site.zone}
          maySet={can(of.member.roles, 'clinic:set')}
        />
        <RunsPart runs={props.runs} zone={of.site.zone} />
      </div>
    </DayLive>
  )
}

const DATE_ORDERS = [
  { value: '', label: 'as the file shows' },
  { value: 'ymd', label: 'year-month-day' },
  { value: 'dmy', label: 'day.month.year' },
  { value: 'mdy', label: 'month/day/year' },
] as const
type DateOrder = (typeof DATE_ORDERS)[number]['value']

interface BringProps {
  of: DayOf
  sources: string[]
  operatories: ImportScreenProps['operatories']
}

function Bring({ of, sources, operatories }: BringProps) {
  const router = useRouter()
  const chooser = useRef<HTMLInputElement>(null)
  const [file, setFile] = useState<File | null>(null)
  const [source, setSource] = useState('')
  const [notation, setNotation] = useState<Notation>(of.clinic.notation)
  const [dateOrder, setDateOrder] = useState<DateOrder>('')
  const [mapping, setMapping] = useState<Record<string, string>>({})
  const [preview, setPreview] = useState<Preview | null>(null)
  const [trouble, setTrouble] = useState<Trouble | null>(null)
  const [taken, setTaken] = useState(false)
  const [busy, setBusy] = useState(false)
  const [standing, setStanding] = useState<string | null>(null)
  const [wholeOf, setWholeOf] = useState<WholeOf | undefined>(undefined)
  /** What was said of the file when it was looked at. */
  const [looked, setLooked] = useState('')
  const stop = useRef<AbortController | null>(null)
  // On a slow screen a file may be chosen before the page listens.
  useEffect(() => setFile(chooser.current?.files?.[0] ?? null), [])
  const said = {
    source,
    notation,
    dateOrder: dateOrder || null,
    mapping,
    ...(wholeOf === undefined ? {} : { wholeOf }),
  }
  const columns = preview?.table?.columns ?? []
  const isOther = preview !== null && looked !== JSON.stringify(said)

  /** Until it is done the screen says where it stands, and it can be stopped. */
  const whileStanding = async <T,>(words: string, work: (signal: AbortSignal) => Promise<T>): Promise<T> => {
    const stopping = new AbortController()
    stop.current = stopping
    setBusy(true)
    setStanding(words)
    const came = await work(stopping.signal)
    setBusy(false)
    setStanding(null)
    return came
  }
  const look = async () => {
    if (!file) return
    const came = await whileStanding('The file is being compared with what is known.', (signal) =>
      previewFile({ file, ...said }, signal),
    )
    setTaken(false)
    setLooked(JSON.stringify(said))
    setPreview(came.ok ? came.value : null)
    setTrouble(came.ok ? null : came.trouble)
  }
  const submit = (event: FormEvent) => {
    event.preventDefault()
    return look()
  }
  const take = async () => {
    if (!file) return
    const came = await whileStanding('The file is on its way.', (signal) =>
      takeFile({ file, ...said }, { signal, tell: setStanding }),
    )
    setTrouble(came.ok ? null : came.trouble)
    setTaken(came.ok)
    if (came.ok) router.refresh()
  }
  return (
    <>
      <form className={styles.form} onSubmit={submit}>
        <FieldGroup title="The file">
          <label className={styles.file}>
            <span>CSV, FHIR R4 Bundle or iCalendar up to 10 MB, NDJSON up to 40 MB</span>
            <input
              ref={chooser}
              type="file"
              accept=".csv,.txt,.json,.ndjson,.ics,text/csv,application/json,text/calendar"
              onChange={(event) => {
                setFile(event.target.files?.[0] ?? null)
                setPreview(null)
                setMapping({})
                setWholeOf(undefined)
              }}
              required
            />
          </label>
          <Field
            label="Where it comes from"
            value={source}
            onChange={setSource}
            hint="The same name each day, so that the same appointment is known again."
            isRequired
          />
          <Pick
            label="How it numbers teeth"
            value={notation}
            options={NOTATIONS.map((value) => ({ value, label: NOTATION_WORDS[value] }))}
            onPick={setNotation}
          />
          <Pick label="How it writes dates" value={dateOrder} options={DATE_ORDERS} onPick={setDateOrder} />
        </FieldGroup>
        {sources.length > 0 ? (
          <div className={styles.acts}>
            <span className={styles.small}>Known here:</span>
            {sources.map((name) => (
              <Button key={name} size="small" aria-pressed={source === name} onPress={() => setSource(name)}>
                {name}
              </Button>
            ))}
          </div>
        ) : null}
        <Button
          type="submit"
          size="main"
          tone={preview ? 'plain' : 'ink'}
          isDisabled={busy || !file || source.trim() === ''}
        >
          Look first
          <small>nothing is changed</small>
        </Button>
      </form>
      {standing ? (
        <div className={styles.acts} role="status">
          <span>{standing}</span>
          <Button onPress={() => stop.current?.abort()}>Stop</Button>
        </div>
      ) : null}
      {trouble ? <TroubleBox trouble={trouble} /> : null}
      {columns.length > 0 && !taken ? (
        <ColumnsPart columns={columns} mapping={mapping} onMap={setMapping} />
      ) : null}
      {preview && !taken ? (
        <CoversPart covers={preview.covers} today={of.day} wholeOf={wholeOf} onSay={setWholeOf} />
      ) : null}
      {preview && !taken && !isOther ? (
        <NamesPart
          names={preview.names}
          source={{ name: source.trim(), notation }}
          of={of}
          operatories={operatories}
          onRemembered={look}
        />
      ) : null}
      {isOther && !taken ? (
        <p>What is said of the file has changed: look once more before it is read in.</p>
      ) : null}
      {preview && (taken || !isOther) ? (
        <PreviewPart preview={preview} busy={busy} taken={taken} onTake={take} />
      ) : null}
    </>
  )
}

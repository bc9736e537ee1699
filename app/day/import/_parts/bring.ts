import { NO_ANSWER, type Trouble, troubleOf } from '#app/_live/trouble.ts'
import type { Preview } from '#server/trpc/exchange-router.ts'
import type { Day } from '#shared/base/moment.ts'
import type { ImportCounts } from '#shared/schedule/import-batch.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'

/** A file as someone brings it. */
export interface Bringing {
  file: File
  source: string
  notation: Notation
  dateOrder: 'ymd' | 'dmy' | 'mdy' | null
  /** Header → field, where a person corrected the proposal. */
  mapping: Record<string, string>
  /** The days it is said to be the whole list of; null: a part. Left out, it is as it looks. */
  wholeOf?: WholeOf
}

export type WholeOf = { first: Day; last: Day } | null

/** A column of a delimited file, the field it is taken for, and what stands in its first row. */
export type PreviewColumn = NonNullable<Preview['table']>['columns'][number]

export type Brought<T> = { ok: true; value: T } | { ok: false; trouble: Trouble }

/** Compares the file with what is known. Nothing is changed. */
export async function previewFile(bringing: Bringing, signal: AbortSignal): Promise<Brought<Preview>> {
  try {
    const answer = await ask({ mode: 'preview' }, bringing, signal)
    const body: unknown = await answer.json()
    return answer.ok
      ? { ok: true, value: (body as { preview: Preview }).preview }
      : { ok: false, trouble: troubleOf(body) }
  } catch {
    return { ok: false, trouble: signal.aborted ? STOPPED_LOOKING : NO_ANSWER }
  }
}

const STOPPED_LOOKING: Trouble = {
  what: 'The look was stopped.',
  why: 'Nothing was read in and nothing was changed.',
  todo: 'Look again, or choose another file.',
}

export interface Taking {
  /** Stops it: nothing is kept. */
  signal: AbortSignal
  /** Where it stands, in words. */
  tell: (words: string) => void
}

const STOPPED: Trouble = {
  what: 'The reading was stopped.',
  why: 'A file is taken whole or not at all.',
  todo: 'Look at what the day shows: if the file came before the stop it is there, else nothing was changed.',
}

/** Takes the file as it was previewed, and says on the way where it stands. */
export async function takeFile(
  bringing: Bringing,
  { signal, tell }: Taking,
): Promise<Brought<{ counts: ImportCounts | null }>> {
  try {
    const answer = await ask({ mode: 'take', progress: '1' }, bringing, signal)
    if (!answer.ok || answer.body === null) return { ok: false, trouble: troubleOf(await answer.json()) }
    for await (const line of linesOf(answer.body)) {
      const said = line as RunLine
      if (said.step !== 'done') tell(wordsOf(said))
      else if (said.status === 200) return { ok: true, value: said.body as { counts: ImportCounts | null } }
      else return { ok: false, trouble: troubleOf(said.body) }
    }
    return { ok: false, trouble: NO_ANSWER }
  } catch {
    return { ok: false, trouble: signal.aborted ? STOPPED : NO_ANSWER }
  }
}

type RunLine =
  | { step: 'reading' }
  | { step: 'comparing' | 'keeping'; rows: number }
  | { step: 'done'; status: number; body: unknown }

function wordsOf(said: Exclude<RunLine, { step: 'done' }>): string {
  if (said.step === 'reading') return 'The file is being read.'
  return said.step === 'comparing'
    ? `${said.rows} rows are compared with what is known.`
    : `What ${said.rows} rows say is being kept.`
}

async function* linesOf(body: ReadableStream<Uint8Array>): AsyncGenerator<unknown> {
  const reader = body.getReader()
  const decoder = new TextDecoder()
  let left = ''
  for (let part = await reader.read(); !part.done; part = await reader.read()) {
    const lines = (left + decoder.decode(part.value, { stream: true })).split('\n')
    left = lines.pop() ?? ''
    for (const line of lines) yield JSON.parse(line)
  }
}

function ask(told: Record<string, string>, bringing: Bringing, signal: AbortSignal): Promise<Response> {
  const { file, source, notation, dateOrder, mapping, wholeOf } = bringing
  const query = new URLSearchParams({
    ...told,
    name: file.name,
    source,
    notation,
    mapping: JSON.stringify(mapping),
    ...(dateOrder ? { dateOrder } : {}),
    ...(wholeOf === undefined ? {} : { wholeOf: wholeOf ? `${wholeOf.first}..${wholeOf.last}` : 'part' }),
  })
  return fetch(`/api/import?${query}`, { method: 'POST', body: file, signal })
}

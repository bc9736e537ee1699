import { NO_ANSWER, type Trouble, troubleOf } from '#app/_live/trouble.ts'
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
}

/** A row that cannot be taken as it stands. */
export interface RowTrouble {
  line: number
  field: string
  text: string
  original: string
}

/** A column of a delimited file, the field it is taken for, and what stands in its first row. */
export interface PreviewColumn {
  header: string
  field: string | null
  sample: string
}

/** What a file would do; as much of the server's preview as is shown. */
export interface Preview {
  rows: number
  counts: ImportCounts
  problems: RowTrouble[]
  assumed: string[]
  /** Null for a format that has no columns. */
  table: { columns: PreviewColumn[] } | null
}

export type Brought<T> = { ok: true; value: T } | { ok: false; trouble: Trouble }

/** Compares the file with what is known. Nothing is changed. */
export const previewFile = async (bringing: Bringing): Promise<Brought<Preview>> => {
  const answer = await send<{ preview: Preview }>('preview', bringing)
  return answer.ok ? { ok: true, value: answer.value.preview } : answer
}

/** Takes the file as it was previewed. */
export const takeFile = (bringing: Bringing): Promise<Brought<{ counts: ImportCounts | null }>> =>
  send('take', bringing)

async function send<T>(mode: 'preview' | 'take', bringing: Bringing): Promise<Brought<T>> {
  const { file, source, notation, dateOrder, mapping } = bringing
  const told = new URLSearchParams({
    mode,
    name: file.name,
    source,
    notation,
    mapping: JSON.stringify(mapping),
    ...(dateOrder ? { dateOrder } : {}),
  })
  try {
    const answer = await fetch(`/api/import?${told}`, { method: 'POST', body: file })
    const body: unknown = await answer.json()
    return answer.ok ? { ok: true, value: body as T } : { ok: false, trouble: troubleOf(body) }
  } catch {
    return { ok: false, trouble: NO_ANSWER }
  }
}

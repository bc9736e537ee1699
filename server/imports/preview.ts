import { Worker } from 'node:worker_threads'
import type { Day, Instant } from '#shared/base/moment.ts'
import { emptyWorld, type FactName, type World } from '#shared/facts.ts'
import type { ClinicId, ImportSourceId, MemberId } from '#shared/ids.ts'
import { nameWork } from '#shared/procedures/catalogue.ts'
import { ownWordsIn } from '#shared/procedures/own-words.ts'
import type { ImportSource } from '#shared/schedule/import-batch.ts'
import type { ImportInput } from '#shared/schedule/import-commands.ts'
import type { Coverage } from '#shared/schedule/incoming.ts'
import { type Reconciled, reconcile, unreadIn } from '#shared/schedule/reconcile.ts'
import type { ReadOptions } from './incoming.ts'
import { readNow, type Upload } from './read-upload.ts'

/** What an import would do. Nothing is saved. */
export interface Preview {
  file: Upload['file']
  rows: number
  counts: Reconciled['counts']
  outcomes: Reconciled['outcomes']
  /** Every row that cannot be taken, or only in part. */
  problems: Reconciled['problems']
  passedOver: Upload['incoming']['passedOver']
  /** Names whose meaning here is to be said. */
  names: Reconciled['names']
  findings: Reconciled['findings']
  covers: Coverage | null
  assumed: string[]
  table: Upload['table']
}

export interface PreviewOptions extends ReadOptions {
  fileName: string
  /** The known source; left out for one that brings its first file. */
  known?: ImportSource
  now: Instant
  today: Day
  /** What a person says the file covers, where it differs from what it looks like. */
  covers?: Coverage | null
}

/** Below this a file is read where it is: a worker takes longer to start. Bytes. */
const WORTH_A_WORKER = 24 * 1024

/** Reads an upload; a long one beside the event loop. `signal` stops it. */
export async function readUpload(
  bytes: Uint8Array,
  fileName: string,
  options: ReadOptions,
  signal?: AbortSignal,
): Promise<Upload> {
  if (bytes.length < WORTH_A_WORKER) return readNow(bytes, fileName, options)
  return runApart<Upload>({ kind: 'read', bytes, fileName, options }, signal)
}

/** Compares a file with a world; an empty world for an empty clinic. A long file is read and compared beside the event loop. */
export async function previewImport(
  world: World,
  bytes: Uint8Array,
  options: PreviewOptions,
  signal?: AbortSignal,
): Promise<Preview> {
  if (bytes.length < WORTH_A_WORKER) return previewNow(world, bytes, options)
  return runApart<Preview>({ kind: 'preview', world: needed(world), bytes, options }, signal)
}

/** The command that does what was previewed. */
export function makeImportInput(
  { file, incoming }: Upload,
  source: ImportInput['source'],
  covers?: Coverage | null,
): ImportInput {
  const { appointments, allergies, problems } = incoming
  return {
    source,
    file,
    appointments,
    allergies,
    problems,
    covers: covers === undefined ? incoming.covers : covers,
  }
}

export const previewNow = (world: World, bytes: Uint8Array, options: PreviewOptions): Preview =>
  previewUpload(world, readNow(bytes, options.fileName, options), options)

/** Compares a file that has been read. */
export function previewUpload(
  world: World,
  { file, incoming, table }: Upload,
  options: PreviewOptions,
): Preview {
  const clinicId = world.clinic[0]?.id ?? ('00000000-0000-4000-8000-000000000000' as ClinicId)
  let made = 0
  const newId = <Id>(): Id => `00000000-0000-4000-8000-${(++made).toString(16).padStart(12, '0')}` as Id
  const source: ImportSource = options.known ?? {
    clinicId,
    id: newId<ImportSourceId>(),
    name: options.source,
    notation: options.notation,
    mapping: options.mapping ?? {},
    dateOrder: options.dateOrder ?? null,
  }
  const covers = options.covers === undefined ? incoming.covers : options.covers
  const { counts, outcomes, problems, names, findings } = reconcile(
    withSite(world, options),
    {
      source,
      appointments: incoming.appointments,
      allergies: incoming.allergies,
      covers,
      unread: unreadIn(incoming.problems),
    },
    { clinicId, now: options.now, today: options.today, by: '' as MemberId, newId },
  )
  const all = [...incoming.problems, ...problems].sort((one, other) => one.line - other.line)
  return {
    file,
    rows: incoming.rows,
    counts: { ...counts, problems: all.length },
    outcomes,
    problems: all,
    passedOver: incoming.passedOver,
    names,
    findings,
    covers,
    assumed: [...incoming.assumed, ...ownWordsSaid(world, incoming)],
    table,
  }
}

/** Which lines are read by words that the clinic has taught, so that nobody takes them for common ones. */
function ownWordsSaid({ ownWord }: World, { appointments }: Upload['incoming']): string[] {
  const texts = appointments.flatMap(({ work }) => (work ?? []).map(({ text }) => text))
  return ownWord.flatMap((own) => {
    const lines = texts.filter((text) => ownWordsIn(text, [own]).length > 0).length
    return lines === 0
      ? []
      : [`“${own.words}” is read as ${nameWork(own.kind)} in ${lines} lines: the clinic’s own word.`]
  })
}

/** An empty clinic still has one place where its appointments are. */
function withSite(world: World, { zone }: ReadOptions): World {
  if (world.site.length > 0) return world
  const clinicId = '00000000-0000-4000-8000-000000000000' as ClinicId
  const site = {
    clinicId,
    id: clinicId as never,
    name: '',
    zone,
    opensAt: '00:00' as never,
    closesAt: '23:59' as never,
    assistantPlaces: 'not-set',
  } as const
  return { ...world, site: [site] }
}

const NEEDED: FactName[] = [
  'clinic',
  'site',
  'operatory',
  'member',
  'patient',
  'allergyRecord',
  'appointment',
  'work',
  'visit',
  'tray',
  'importSource',
  'ownWord',
]
/** Only what is compared crosses to the worker. */
const needed = (world: World): World => ({
  ...emptyWorld(),
  ...Object.fromEntries(NEEDED.map((name) => [name, world[name]])),
})

export type Job =
  | { kind: 'read'; bytes: Uint8Array; fileName: string; options: ReadOptions }
  | { kind: 'preview'; world: World; bytes: Uint8Array; options: PreviewOptions }

/** One worker for one job: it can be stopped at any moment and leaves nothing behind. */
function runApart<Answer>(job: Job, signal?: AbortSignal): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(new URL('./import-worker.mjs', import.meta.url), {
      workerData: job,
      execArgv: [],
    })
    const stop = (): void => {
      void worker.terminate()
      reject(new Error('Stopped: nothing was read and nothing was changed.'))
    }
    if (signal?.aborted) return stop()
    signal?.addEventListener('abort', stop, { once: true })
    const done = (): void => signal?.removeEventListener('abort', stop)
    worker.once('message', (answer: Answer) => {
      done()
      resolve(answer)
    })
    worker.once('error', (error) => {
      done()
      reject(error)
    })
  })
}

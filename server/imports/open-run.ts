import { Worker } from 'node:worker_threads'
import type { WorldTexts } from '#db/select.ts'
import type { Around, Made } from '../commands/made.ts'
import { joinMessages, type Message } from './parts.ts'
import type { Preview, PreviewOptions } from './preview.ts'
import { formatOf } from './read-upload.ts'
import { openRunHere, type RunRead, type RunStart, type RunStep } from './run.ts'

/** A file that is read, compared and decided: beside the event loop, unless it is short. */
export interface ImportRun {
  read: RunRead
  preview: (texts: WorldTexts, options: PreviewOptions) => Promise<Preview>
  decide: (texts: WorldTexts, around: Around) => Promise<Made>
  close: () => void
}

/** Below this a file is read in less time than a thread takes to start. Bytes. */
const WORTH_A_WORKER = 4 * 1024
/**
 * So few rows, against so little that is known, are decided in less time too. Measured in time of the processor: 35 rows
 * of 3 kB took 0.2 s against nothing, 2 s against a day of a thousand visits.
 */
const MOST_ROWS_HERE = 5
const MOST_FACTS_HERE = 128 * 1024

/** Opens a run. When `signal` stops it, whatever it is asked is refused at once and nothing is left behind. */
export function openRun(start: RunStart, signal?: AbortSignal): Promise<ImportRun> {
  return isShort(start.bytes) ? openHere(start, signal) : openApart(start, signal)
}

/** A calendar of a few lines can stand for thousands of days, so none is short. */
const isShort = (bytes: Uint8Array): boolean =>
  bytes.length < WORTH_A_WORKER && formatOf(bytes) !== 'icalendar'

const isLittle = (read: RunRead, texts: WorldTexts): boolean =>
  read.ok &&
  read.rows <= MOST_ROWS_HERE &&
  Object.values(texts).reduce((sum, text) => sum + (text?.length ?? 0), 0) <= MOST_FACTS_HERE

/** Read here; decided here too where there is little to decide, else apart. */
async function openHere(start: RunStart, signal?: AbortSignal): Promise<ImportRun> {
  const run = openRunHere(start)
  let apart: Promise<ImportRun> | null = null
  const openOnce = (): Promise<ImportRun> => {
    apart ??= openApart(start, signal)
    return apart
  }
  const decider = async (texts: WorldTexts): Promise<Pick<ImportRun, 'preview' | 'decide'> | typeof run> => {
    if (signal?.aborted) throw new Stopped()
    return isLittle(run.read, texts) ? run : openOnce()
  }
  if (signal?.aborted) throw new Stopped()
  return {
    read: run.read,
    preview: async (texts, options) => (await decider(texts)).preview(texts, options),
    decide: async (texts, around) => (await decider(texts)).decide(texts, around),
    close: () =>
      void apart?.then(
        (each) => each.close(),
        () => {},
      ),
  }
}

/** Someone stopped it, or went away. */
export class Stopped extends Error {
  constructor() {
    super('Stopped: nothing was read and nothing was changed.')
  }
}

async function openApart(start: RunStart, signal?: AbortSignal): Promise<ImportRun> {
  if (signal?.aborted) throw new Stopped()
  const worker = new Worker(new URL('./import-worker.mjs', import.meta.url), {
    workerData: start,
    execArgv: [],
  })
  const next = <T>(): Promise<T> =>
    new Promise<T>((resolve, reject) => {
      const stop = (): void => {
        void worker.terminate()
        reject(new Stopped())
      }
      if (signal?.aborted) return stop()
      signal?.addEventListener('abort', stop, { once: true })
      const done = (): void => {
        signal?.removeEventListener('abort', stop)
        worker.off('message', answered)
        worker.off('error', failed)
      }
      const parts: string[] = []
      const answered = (message: Message<T>): void => {
        if (message.kind === 'part') {
          parts.push(message.part)
          return
        }
        done()
        resolve(joinMessages(parts, message))
      }
      const failed = (error: unknown): void => {
        done()
        reject(error)
      }
      worker.on('message', answered)
      worker.once('error', failed)
    })
  const ask = <T>(step: RunStep): Promise<T> => {
    const answer = next<T>()
    worker.postMessage(step)
    return answer
  }
  return {
    read: await next<RunRead>(),
    preview: (texts, options) => ask({ kind: 'preview', texts, options }),
    decide: (texts, around) => ask({ kind: 'decide', texts, around }),
    close: () => void worker.terminate(),
  }
}

/** Reads codes out of pictures, away from the screen's own thread. */
export interface CodeReader {
  /** The texts of all square codes in a picture; none where it shows none. */
  read: (picture: ImageData) => Promise<string[]>
  close: () => void
}

export interface ReadAsked {
  id: number
  picture: ImageData
}
export type ReadAnswer = { id: number; texts: string[] } | { id: number; failed: string }

/** Opens the reader: its worker and its library are fetched from this server, the first time a camera is used. */
export function openCodeReader(): CodeReader {
  const worker = new Worker(new URL('./scan-worker.ts', import.meta.url), { type: 'module' })
  const waiting = new Map<number, { take: (texts: string[]) => void; fail: (error: Error) => void }>()
  let next = 0
  const failAll = (why: string) => {
    for (const { fail } of waiting.values()) fail(new Error(why))
    waiting.clear()
  }
  worker.addEventListener('message', ({ data }: MessageEvent<ReadAnswer>) => {
    const asked = waiting.get(data.id)
    waiting.delete(data.id)
    if ('failed' in data) asked?.fail(new Error(data.failed))
    else asked?.take(data.texts)
  })
  worker.addEventListener('error', ({ message }) => failAll(message || 'the code reader did not start'))
  return {
    read: (picture) =>
      new Promise((take, fail) => {
        const id = next++
        waiting.set(id, { take, fail })
        worker.postMessage({ id, picture } satisfies ReadAsked, [picture.data.buffer])
      }),
    close: () => {
      worker.terminate()
      failAll('closed')
    },
  }
}

/** One server-sent event (WHATWG HTML, "Server-sent events"): its name, id and joined data. */
export interface StreamEvent {
  name: string
  id: string | null
  data: string
}

/**
 * Cuts text into server-sent events. Feed it what arrives; it gives back the events that are complete and keeps
 * the rest. Comments give nothing.
 */
export function openEventReader(): (text: string) => StreamEvent[] {
  let rest = ''
  return (text) => {
    const blocks = (rest + text).replace(/\r\n?/g, '\n').split('\n\n')
    rest = blocks.pop() ?? ''
    return blocks.flatMap((block) => readBlock(block) ?? [])
  }
}

function readBlock(block: string): StreamEvent | null {
  const event: StreamEvent = { name: 'message', id: null, data: '' }
  const data: string[] = []
  for (const line of block.split('\n')) {
    const [field, value] = cutField(line)
    if (field === 'event') event.name = value
    if (field === 'id') event.id = value
    if (field === 'data') data.push(value)
  }
  return data.length === 0 ? null : { ...event, data: data.join('\n') }
}

function cutField(line: string): [string, string] {
  const colon = line.indexOf(':')
  if (colon < 0) return [line, '']
  return [line.slice(0, colon), line.slice(colon + 1).replace(/^ /, '')]
}

export interface StreamDoors {
  onOpen: () => void
  onEvent: (event: StreamEvent) => void
  /** Any sign of life, the server's heartbeat among them. */
  onBeat: () => void
  /** The server will not have us: the sign-in has ended. */
  onRefused: () => void
}

const FIRST_WAIT_MS = 500
const LONGEST_WAIT_MS = 8_000

/**
 * Holds a stream open and opens it again when it drops, waiting longer each time. `addressNow` is asked before
 * each attempt, so that it can name the revision reached. Gives back what closes it.
 */
export function openStream(addressNow: () => string, doors: StreamDoors): () => void {
  const stopped = new AbortController()
  void keepOpen(addressNow, doors, stopped.signal)
  return () => stopped.abort()
}

async function keepOpen(addressNow: () => string, doors: StreamDoors, signal: AbortSignal): Promise<void> {
  let wait = FIRST_WAIT_MS
  while (!signal.aborted) {
    const came = await readOnce(addressNow(), doors, signal).catch(() => 'dropped' as const)
    if (signal.aborted) return
    if (came === 'refused') return doors.onRefused()
    wait = came === 'ended' ? FIRST_WAIT_MS : Math.min(LONGEST_WAIT_MS, wait * 2)
    await pause(wait, signal)
  }
}

async function readOnce(
  address: string,
  doors: StreamDoors,
  signal: AbortSignal,
): Promise<'ended' | 'refused' | 'dropped'> {
  const answer = await fetch(address, { signal, headers: { accept: 'text/event-stream' }, cache: 'no-store' })
  if (answer.status === 401 || answer.status === 403) return 'refused'
  if (!answer.ok || !answer.body) return 'dropped'
  doors.onOpen()
  const reader = answer.body.pipeThrough(new TextDecoderStream()).getReader()
  const read = openEventReader()
  for (;;) {
    const { done, value } = await reader.read()
    if (done) return 'ended'
    doors.onBeat()
    for (const event of read(value)) doors.onEvent(event)
  }
}

const pause = (ms: number, signal: AbortSignal): Promise<void> =>
  new Promise((resolve) => {
    const timer = setTimeout(resolve, ms)
    signal.addEventListener('abort', () => {
      clearTimeout(timer)
      resolve()
    })
  })

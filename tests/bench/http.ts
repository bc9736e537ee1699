import { Agent, request } from 'node:http'

export interface Asking {
  agent: Agent
  cookie?: string
  /** Sent as JSON; without it the address is read. */
  body?: unknown
  /** Sent as it is, text or bytes. */
  text?: string | Uint8Array
}

export interface Answer {
  status: number
  body: Buffer
  ms: number
}

/** One connection, kept open. */
export const oneConnection = (): Agent => new Agent({ keepAlive: true, maxSockets: 1 })

/** Asks an address and reads the whole answer; `ms` runs from the asking to its last byte. */
export const ask = (url: string, { agent, cookie, body, text }: Asking): Promise<Answer> =>
  new Promise((resolve, reject) => {
    const json = body === undefined ? null : Buffer.from(JSON.stringify(body))
    const sent = text === undefined ? json : Buffer.from(text)
    const began = performance.now()
    const asked = request(
      url,
      {
        agent,
        method: sent ? 'POST' : 'GET',
        headers: {
          ...(cookie ? { cookie } : {}),
          ...(sent
            ? { 'content-type': json ? 'application/json' : 'text/csv', 'content-length': sent.length }
            : {}),
        },
      },
      (response) => {
        const parts: Buffer[] = []
        response.on('data', (part: Buffer) => parts.push(part))
        response.on('error', reject)
        response.on('end', () =>
          resolve({
            status: response.statusCode ?? 0,
            body: Buffer.concat(parts),
            ms: performance.now() - began,
          }),
        )
      },
    )
    asked.on('error', reject)
    asked.end(sent ?? undefined)
  })

/** The same, where anything but a good answer is a fault of the measurement. */
export async function askWell(url: string, asking: Asking): Promise<Answer> {
  const answer = await ask(url, asking)
  if (answer.status !== 200)
    throw new Error(`${url} answered ${answer.status}: ${answer.body.subarray(0, 300)}`)
  return answer
}

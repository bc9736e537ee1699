import { Agent, request } from 'node:http'

export interface Asking {
  agent: Agent
  cookie?: string
  /** Sent as JSON; without it the address is read. */
  body?: unknown
}

export interface Answer {
  status: number
  body: Buffer
  ms: number
}

/** One connection, kept open. */
export const oneConnection = (): Agent => new Agent({ keepAlive: true, maxSockets: 1 })

/** Asks an address and reads the whole answer; `ms` runs from the asking to its last byte. */
export const ask = (url: string, { agent, cookie, body }: Asking): Promise<Answer> =>
  new Promise((resolve, reject) => {
    const text = body === undefined ? null : Buffer.from(JSON.stringify(body))
    const began = performance.now()
    const asked = request(
      url,
      {
        agent,
        method: text ? 'POST' : 'GET',
        headers: {
          ...(cookie ? { cookie } : {}),
          ...(text ? { 'content-type': 'application/json', 'content-length': text.length } : {}),
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
    asked.end(text ?? undefined)
  })

/** The same, where anything but a good answer is a fault of the measurement. */
export async function askWell(url: string, asking: Asking): Promise<Answer> {
  const answer = await ask(url, asking)
  if (answer.status !== 200)
    throw new Error(`${url} answered ${answer.status}: ${answer.body.subarray(0, 300)}`)
  return answer
}

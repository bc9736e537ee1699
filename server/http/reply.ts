import type { IncomingMessage, ServerResponse } from 'node:http'

/** An error for a person, in three parts. */
export interface Trouble {
  what: string
  why: string
  todo: string
}

export function replyJson(response: ServerResponse, status: number, body: unknown): void {
  response.writeHead(status, {
    'content-type': 'application/json; charset=utf-8',
    'cache-control': 'no-store',
  })
  response.end(JSON.stringify(body))
}

export const replyTrouble = (response: ServerResponse, status: number, trouble: Trouble): void =>
  replyJson(response, status, { refused: true, error: trouble })

/** A response of the web's own kind, sent through Node's. */
export async function replyWith(response: ServerResponse, answer: Response): Promise<void> {
  const headers: Record<string, string | string[]> = {}
  answer.headers.forEach((value, name) => {
    if (name !== 'set-cookie') headers[name] = value
  })
  const cookies = answer.headers.getSetCookie()
  if (cookies.length > 0) headers['set-cookie'] = cookies
  response.writeHead(answer.status, headers)
  response.end(Buffer.from(await answer.arrayBuffer()))
}

/** The request's body, or null as soon as it is larger than `limit` bytes; the rest is not read. */
export async function readBody(request: IncomingMessage, limit: number): Promise<Buffer | null> {
  if (Number(request.headers['content-length'] ?? 0) > limit) return null
  const parts: Buffer[] = []
  let size = 0
  for await (const part of request as AsyncIterable<Buffer>) {
    size += part.length
    if (size > limit) return null
    parts.push(part)
  }
  return Buffer.concat(parts)
}

/** The body as JSON; `undefined` where it is not. */
export function parseJson(body: Buffer): unknown {
  try {
    return JSON.parse(body.toString('utf8'))
  } catch {
    return undefined
  }
}

/**
 * Whether a request that may change something comes from our own pages: browsers send the Origin they stand on,
 * and it must name the host they asked. Command-line clients send none.
 */
export function isOwnOrigin(request: IncomingMessage): boolean {
  const { origin, host } = request.headers
  if (origin === undefined) return true
  try {
    return new URL(origin).host === host
  } catch {
    return false
  }
}

export const FOREIGN_ORIGIN: Trouble = {
  what: 'This request comes from another address.',
  why: 'A foreign page must not act in the name of someone signed in here.',
  todo: 'Open Weirboard at its own address and try again.',
}

export const NOT_SIGNED_IN: Trouble = {
  what: 'Nobody is signed in on this screen.',
  why: 'What happens here is kept under a person’s name.',
  todo: 'Sign in and try again.',
}

export const tooLarge = (megabytes: number): Trouble => ({
  what: `This is larger than ${megabytes} MB.`,
  why: 'A day’s list is far smaller; something else may have been chosen by mistake, and nothing of it was read.',
  todo: 'Choose the file with the day’s appointments, or split it.',
})

import { createHash } from 'node:crypto'
import { readFeed } from '../exports/feeds.ts'
import type { Answer } from './answer.ts'
import { replyTrouble, type Trouble } from './reply.ts'

const NO_SUCH_FEED: Trouble = {
  what: 'No calendar is given out under this address.',
  why: 'Its address may have been revoked or replaced by a new one.',
  todo: 'Ask the clinic’s manager for the address that holds now.',
}

const ADDRESS = /^\/feed\/([\w-]{20,64})\.ics$/

/**
 * `/feed/SECRET.ics`: the calendar of one operatory or dentist for whoever knows the secret. Nothing between may keep
 * it; who has it already asks with If-None-Match and is told when nothing has changed.
 */
export const answerFeed: Answer = async (house, request, response) => {
  const { pathname } = new URL(request.url ?? '', 'http://here')
  const secret = ADDRESS.exec(pathname)?.[1]
  const reads = request.method === 'GET' || request.method === 'HEAD'
  const text = secret && reads ? await readFeed(house, secret) : null
  if (text === null) return replyTrouble(response, 404, NO_SUCH_FEED)
  const tag = `"${createHash('sha256').update(text).digest('base64url')}"`
  const headers = {
    etag: tag,
    'cache-control': 'private, max-age=300, must-revalidate',
    'x-robots-tag': 'noindex',
    'referrer-policy': 'no-referrer',
  }
  if (isKnown(request.headers['if-none-match'], tag)) {
    response.writeHead(304, headers)
    response.end()
    return
  }
  response.writeHead(200, {
    ...headers,
    'content-type': 'text/calendar; charset=utf-8',
    'content-length': Buffer.byteLength(text),
  })
  response.end(request.method === 'HEAD' ? undefined : text)
}

/** RFC 9110 section 13.1.2: a list of tags, weak ones alike, or a star. */
const isKnown = (told: string | undefined, tag: string): boolean =>
  (told ?? '').split(',').some((each) => ['*', tag].includes(each.trim().replace(/^W\//, '')))

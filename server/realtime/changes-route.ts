import type { IncomingMessage, ServerResponse } from 'node:http'
import { AUDIENCES, type Audience } from '#shared/people/role.ts'
import { parseWindow, type Window } from '#shared/window.ts'
import type { House } from '../house.ts'
import { FOREIGN_ORIGIN, isOwnOrigin, NOT_SIGNED_IN, replyTrouble, type Trouble } from '../http/reply.ts'
import type { Session } from '../sign-in/session.ts'

/** A screen that reads this much slower than it is told is cut; it comes back and catches up. */
const LONGEST_BACKLOG = 1024 * 1024

const NO_WINDOW: Trouble = {
  what: 'This stream names no window.',
  why: 'A screen is told only of what it shows.',
  todo: 'Reload this screen.',
}
const NOT_FOR_YOU: Trouble = {
  what: 'This page is for those who treat patients.',
  why: 'It holds clinical facts.',
  todo: 'Ask someone at the chair, or sign in as the person you are.',
}
const ONLY_READ: Trouble = {
  what: 'This address is only read.',
  why: 'Nothing is changed through it.',
  todo: 'Reload this screen.',
}

/**
 * The live stream: server-sent events of one window, the revision as event id. A screen that comes back says where
 * it stood, by `since` or by the header that browsers send.
 */
export async function answerChanges(
  house: House,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  if (request.method !== 'GET') return replyTrouble(response, 405, ONLY_READ)
  if (!isOwnOrigin(request)) return replyTrouble(response, 403, FOREIGN_ORIGIN)
  const session = await house.readSession(request.headers.cookie)
  if (!session) return replyTrouble(response, 401, NOT_SIGNED_IN)
  const asked = new URL(request.url ?? '/', 'http://localhost').searchParams
  const window = parseWindow(asked.get('window') ?? '')
  if (!window) return replyTrouble(response, 400, NO_WINDOW)
  const audience = lowerOf(session.audience, asked.get('audience'))
  if (window.kind !== 'day' && audience !== 'clinical') return replyTrouble(response, 403, NOT_FOR_YOU)
  const since = Number(asked.get('since') ?? request.headers['last-event-id'] ?? Number.NaN)
  await stream(
    house,
    { session, window, since: Number.isSafeInteger(since) ? since : -1, audience },
    response,
  )
}

/** A screen may ask to be shown less than its person may see, never more. */
export function lowerOf(own: Audience, wanted: string | null): Audience {
  const lower = AUDIENCES.find((audience) => audience === wanted)
  return lower && AUDIENCES.indexOf(lower) > AUDIENCES.indexOf(own) ? lower : own
}

interface Asked {
  session: Session
  window: Window
  since: number
  audience: Audience
}

async function stream(
  house: House,
  { session, window, since, audience }: Asked,
  response: ServerResponse,
): Promise<void> {
  // It ends when the connection does, so each event is written as it stands instead of in chunks.
  response.removeHeader('transfer-encoding')
  response.writeHead(200, {
    'content-type': 'text/event-stream; charset=utf-8',
    'cache-control': 'no-store',
    'x-accel-buffering': 'no',
  })
  response.socket?.setNoDelay(true)
  response.write(': open\n\n')
  const gone = new Promise<void>((closed) => response.once('close', closed))
  const leave = await house.hub.join(
    session.clinicId,
    { window, since },
    {
      sessionId: session.sessionId,
      audience,
      send: (bytes) => {
        if (response.writableLength > LONGEST_BACKLOG) response.destroy()
        else response.write(bytes)
      },
      isSignedIn: () => house.isSignedIn(session),
      end: () => response.end(),
    },
  )
  try {
    // It may have ended while this screen was joining, when there was nothing to cut yet.
    if (!(await house.isSignedIn(session))) response.end()
    await gone
  } finally {
    leave()
  }
}

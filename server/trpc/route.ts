import type { IncomingMessage, ServerResponse } from 'node:http'
import { nodeHTTPRequestHandler } from '@trpc/server/adapters/node-http'
import type { House } from '../house.ts'
import { FOREIGN_ORIGIN, isOwnOrigin, replyTrouble, type Trouble, tooLarge } from '../http/reply.ts'
import { appRouter } from './router.ts'

export const TRPC_PATH = '/api/trpc/'
/** A command is far smaller; a day's list goes through the import. */
const LARGEST_BODY = 1024 * 1024

const NOT_JSON: Trouble = {
  what: 'This is not JSON.',
  why: 'Nothing was changed.',
  todo: 'Reload this screen: it may be older than the server.',
}

/** Queries and commands over HTTP. */
export async function answerTrpc(
  house: House,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  if (!isOwnOrigin(request)) return replyTrouble(response, 403, FOREIGN_ORIGIN)
  if (request.method === 'POST' && !/^application\/json\b/.test(request.headers['content-type'] ?? '')) {
    return replyTrouble(response, 415, NOT_JSON)
  }
  if (Number(request.headers['content-length'] ?? 0) > LARGEST_BODY) {
    return replyTrouble(response, 413, tooLarge(1))
  }
  response.setHeader('cache-control', 'no-store')
  await nodeHTTPRequestHandler({
    router: appRouter,
    path: (request.url ?? '').split('?')[0]?.slice(TRPC_PATH.length) ?? '',
    req: request,
    res: response,
    maxBodySize: LARGEST_BODY,
    allowBatching: false,
    createContext: async () => ({ house, session: await house.readSession(request.headers.cookie) }),
    onError: ({ error, path }) => {
      if (error.code === 'INTERNAL_SERVER_ERROR') house.log.error({ err: error, path }, 'a query failed')
    },
  })
}

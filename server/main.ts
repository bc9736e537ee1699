import { createServer, type IncomingMessage, type ServerResponse } from 'node:http'
import type { AddressInfo } from 'node:net'
import next from 'next'
import { listenForVerbs } from './command-line/socket.ts'
import { answerVerb, type VerbRequest } from './command-line/verbs.ts'
import { type Environment, readEnvironment } from './environment.ts'
import { type House, keepHouse, openHouse } from './house.ts'
import { FOREIGN_ORIGIN, isOwnOrigin, replyTrouble } from './http/reply.ts'
import { ROUTES } from './http/routes.ts'
import { secure } from './http/security.ts'
import { openRounds } from './imports/calendar-rounds.ts'

/** How long open requests may take to end when the process is asked to stop. */
const GRACE_MS = 10_000

/**
 * The process. Opens the database once, serves pages, queries, commands, the live stream and health, and closes
 * in order: no new requests, streams ended, requests finished, database closed, lock given back.
 */
export async function serve({ dev = false }: { dev?: boolean } = {}): Promise<void> {
  const environment = readEnvironment(process.env)
  const house = await openHouse(environment)
  keepHouse(house)
  const pages = next({ dev, dir: process.cwd(), hostname: environment.HOST, port: environment.PORT })
  await pages.prepare()
  const showPage = pages.getRequestHandler()

  const server = createServer((request, response) => {
    secure(request, response, dev)
    answer(house, request, response, showPage).catch((error: unknown) => {
      house.log.error({ err: error, path: pathOf(request) }, 'a request failed')
      if (!response.headersSent) {
        replyTrouble(response, 500, {
          what: 'Something went wrong on the server.',
          why: 'What you asked for was not done; what was acknowledged before is kept.',
          todo: 'Try once more. If it happens again, tell whoever looks after this server the time it happened.',
        })
      } else response.destroy()
    })
  })
  // Streams stay open for hours; everything else answers long before this.
  server.requestTimeout = 120_000
  server.keepAliveTimeout = 5_000

  await new Promise<void>((resolve, reject) => {
    server.once('error', reject)
    server.listen(environment.PORT, environment.HOST, resolve)
  }).catch(async (error: unknown) => {
    await house.close()
    throw notListening(error, environment)
  })
  const { port } = server.address() as AddressInfo
  const commandLine = environment.DATABASE_URL
    ? null
    : await listenForVerbs(environment.DATA_FOLDER, (asked) => answerVerb(house, asked as VerbRequest))
  const rounds = openRounds(house)
  await house.greet(environment.PUBLIC_ADDRESS ?? `http://${environment.HOST}:${port}`)

  let closing = false
  const close = async (): Promise<void> => {
    if (closing) return
    closing = true
    const late = setTimeout(() => process.exit(1), GRACE_MS)
    late.unref()
    server.close()
    commandLine?.close()
    rounds.close()
    house.hub.close()
    server.closeIdleConnections()
    await pages.close()
    await house.close()
    process.exit(0)
  }
  process.on('SIGTERM', close)
  process.on('SIGINT', close)
}

/** Why the address cannot be served, in three parts. */
function notListening(error: unknown, { HOST, PORT }: Environment): Error {
  const { code } = error as NodeJS.ErrnoException
  const what =
    code === 'EADDRINUSE'
      ? `Something else is already served at ${HOST}:${PORT}.`
      : `The address ${HOST}:${PORT} cannot be served (${code ?? error}).`
  return new Error(
    `${what}\nTwo servers cannot answer at one address, so this one does not start.\n` +
      'Stop the other one, or set PORT or HOST to another address.',
    { cause: error },
  )
}

type Show = (request: IncomingMessage, response: ServerResponse) => Promise<void>

const pathOf = (request: IncomingMessage): string => (request.url ?? '/').split('?')[0] ?? '/'

async function answer(
  house: House,
  request: IncomingMessage,
  response: ServerResponse,
  showPage: Show,
): Promise<void> {
  const reads = request.method === 'GET' || request.method === 'HEAD'
  if (!reads && !isOwnOrigin(request)) return replyTrouble(response, 403, FOREIGN_ORIGIN)
  const path = pathOf(request)
  const route = ROUTES.find((candidate) =>
    candidate.path.endsWith('/') ? path.startsWith(candidate.path) : path === candidate.path,
  )
  return route ? route.answer(house, request, response) : showPage(request, response)
}

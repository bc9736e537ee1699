import { chmodSync, existsSync, rmSync } from 'node:fs'
import { createServer, request, type Server } from 'node:http'
import { join } from 'node:path'
import { parseJson, readBody } from '../http/reply.ts'
import { badUsage, type VerbAnswer } from './answer.ts'

/** A day's file is at most this large, in bytes. */
const LIMIT = 80 * 1024 * 1024

/** Where a running server listens for the command line: in its own data folder, for its own user only. */
export const socketOf = (folder: string): string => join(folder, 'command.sock')

/** Answers the command line of this machine's same user while the server holds the database. */
export function listenForVerbs(
  folder: string,
  answer: (request: unknown) => Promise<VerbAnswer>,
): Promise<Server> {
  const path = socketOf(folder)
  if (existsSync(path)) rmSync(path)
  const server = createServer(async (incoming, outgoing) => {
    const body = await readBody(incoming, LIMIT)
    const result = body
      ? await answer(parseJson(body)).catch((error: unknown) => badUsage(String(error)))
      : badUsage('The file is too large.')
    outgoing.end(JSON.stringify(result))
  })
  return new Promise((resolve, reject) => {
    server.once('error', reject)
    server.listen(path, () => {
      chmodSync(path, 0o600)
      resolve(server)
    })
  })
}

/** Asks the running server; null when none listens there. */
export function askServer(folder: string, body: unknown): Promise<VerbAnswer | null> {
  const path = socketOf(folder)
  if (!existsSync(path)) return Promise.resolve(null)
  return new Promise((resolve) => {
    const asking = request({ socketPath: path, path: '/', method: 'POST' }, async (response) => {
      const answer = await readBody(response, LIMIT)
      resolve(answer ? (parseJson(answer) as VerbAnswer) : null)
    })
    asking.once('error', () => resolve(null))
    asking.end(JSON.stringify(body))
  })
}

import type { IncomingMessage, ServerResponse } from 'node:http'
import type { House } from '../house.ts'

/** How the process answers a path of its own. */
export type Answer = (
  house: House,
  request: IncomingMessage,
  response: ServerResponse,
) => Promise<void> | void

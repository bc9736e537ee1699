import type { House } from '../house.ts'
import type { Caller } from './router.ts'

const KEPT = Symbol.for('weirboard.house')

/**
 * The same queries and commands in this process, for pages. Pages are bundled apart from the process that serves
 * them, so they find its house by name; nothing of it is bundled with them.
 */
export function callerFor(headers: Headers): Promise<Caller> {
  const house = (globalThis as { [KEPT]?: House })[KEPT]
  if (!house) throw new Error('Bug: pages are served by a process that keeps its house')
  return house.callerFor(headers)
}

import { gzipSync } from 'node:zlib'
import { atMostTimes, type Reading } from './figures.ts'
import { askWell, oneConnection } from './http.ts'
import type { Stand } from './stand.ts'

const SCRIPT = /\/_next\/static\/[^"'\\\s]+?\.js/g
/** Sent only to browsers without modules, so by none that is in use. */
const FOR_OLD = /<script[^>]*noModule[^>]*>/gi

/** Every script that a page names, gzipped each as a server would send it, in bytes. */
async function scriptsOf(address: string, path: string, cookie?: string): Promise<Map<string, number>> {
  const agent = oneConnection()
  const asking = { agent, ...(cookie ? { cookie } : {}) }
  const page = (await askWell(`${address}${path}`, asking)).body.toString()
  const named = new Set(page.replace(FOR_OLD, '').match(SCRIPT) ?? [])
  const sizes = new Map<string, number>()
  for (const script of named) {
    const { body } = await askWell(`${address}${script}`, asking)
    sizes.set(script, gzipSync(body).length)
  }
  agent.destroy()
  return sizes
}

const total = (sizes: Map<string, number>): number =>
  [...sizes.values()].reduce((sum, size) => sum + size, 0) / 1024

/** JavaScript that the first load of the board takes, against the framework's own hello world. */
export async function measureFirstLoad(stand: Stand): Promise<Reading[]> {
  const { cookie } = await stand.day()
  const board = await scriptsOf((await stand.product()).address, '/board', cookie)
  const hello = await scriptsOf((await stand.hello()).address, '/')
  return [
    atMostTimes(
      {
        figure: 'first load of /board, JavaScript, gzip',
        unit: 'kB',
        ours: total(board),
        reference: total(hello),
        behind: { 'scripts of the board': board.size, 'scripts of hello': hello.size },
      },
      1.7,
    ),
  ]
}

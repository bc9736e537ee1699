import { atMost, p50, type Reading } from './figures.ts'
import { freePort, newFolder, removeFolder, start } from './processes.ts'

const TIMES = 3

/** From `npm start` to the first good answer of /healthz, where everything is there already. */
export async function measureSecondStart(): Promise<Reading[]> {
  const folder = newFolder()
  const begin = async (): Promise<number> => {
    const port = await freePort()
    const began = performance.now()
    const product = await start({
      command: ['npm', 'start', '--silent'],
      port,
      variables: { DATA_FOLDER: folder },
      well: '/healthz',
    })
    const ms = performance.now() - began
    await product.stop()
    return ms
  }
  try {
    const first = await begin()
    const seconds: number[] = []
    for (let turn = 0; turn < TIMES; turn += 1) seconds.push((await begin()) / 1000)
    const behind = { 'first start, s': first / 1000, starts: TIMES, slowest: Math.max(...seconds) }
    return [
      atMost(
        { figure: '`npm start`, second run → /healthz, PGlite', unit: 's', ours: p50(seconds), behind },
        6,
      ),
    ]
  } finally {
    removeFolder(folder)
  }
}

import { connect, type Socket } from 'node:net'
import { join } from 'node:path'
import { openDatabase } from '#db/open.ts'
import { must } from '#shared/base/assert.ts'
import { takeSnapshot } from './board-snapshot.ts'
import { type BenchClinic, DAY, done, makeDay } from './clinic.ts'
import { atMost, atMostTimes, p50, p95, type Reading } from './figures.ts'
import { freePort, pause, ROOT, start } from './processes.ts'
import type { Stand } from './stand.ts'

const SCREENS = 200
const ROUNDS = 4
const CHANGES = 40
const WARM_UP = 10
const BETWEEN_MS = 15
const ARRIVES_WITHIN_MS = 10_000
const MARK = Buffer.from('event: change')
const OPEN = Buffer.from(': open')

interface Screens {
  /** Resolves at the moment the last screen has been told once more. */
  next: () => Promise<number>
  close: () => void
}

/** Screens as bare sockets, so that reading them costs as little as it can. */
async function openScreens(
  address: string,
  { path, cookie }: { path: string; cookie: string },
): Promise<Screens> {
  const { hostname, port } = new URL(address)
  let told = 0
  let arrived: ((at: number) => void) | null = null
  const sockets: Socket[] = []
  const head = `GET ${path} HTTP/1.1\r\nHost: ${hostname}:${port}\r\nCookie: ${cookie}\r\nAccept: text/event-stream\r\n\r\n`
  for (let index = 0; index < SCREENS; index += 1) {
    const socket = connect(Number(port), hostname)
    socket.setNoDelay(true)
    sockets.push(socket)
    await new Promise<void>((opened, failed) => {
      socket.once('error', failed)
      let isOpen = false
      socket.on('data', (data) => {
        if (!isOpen && data.includes(OPEN)) {
          isOpen = true
          opened()
        }
        if (!data.includes(MARK)) return
        told += 1
        if (told === SCREENS) arrived?.(performance.now())
      })
      socket.write(head)
    })
  }
  return {
    next: () => {
      told = 0
      return new Promise((resolve, reject) => {
        const late = setTimeout(
          () => reject(new Error(`Only ${told} of ${SCREENS} screens were told.`)),
          ARRIVES_WITHIN_MS,
        )
        arrived = (at) => {
          clearTimeout(late)
          resolve(at)
        }
      })
    },
    close: () => {
      for (const socket of sockets) socket.destroy()
    },
  }
}

/** Small changes that go on for ever: a tray is claimed and let go. */
async function changesOf(clinic: BenchClinic): Promise<() => Promise<number>> {
  const [tray] = await clinic.read('tray')
  const trayId = must(tray, 'a day has trays').id
  let claimed = false
  return async () => {
    claimed = !claimed
    await done(clinic, claimed ? 'tray.claim' : 'tray.let-go', { trayId }, clinic.assistants[0])
    return performance.now()
  }
}

/** From the commit's acknowledgement to the last screen, in ms. */
async function measureScreens(screens: Screens, change: () => Promise<number>): Promise<number[]> {
  const samples: number[] = []
  for (let turn = -WARM_UP; turn < CHANGES; turn += 1) {
    const arrival = screens.next()
    const committed = await change()
    const last = await arrival
    // A screen may be told before the acknowledgement is read here: no wait at all.
    if (turn >= 0) samples.push(Math.max(0, last - committed))
    await pause(BETWEEN_MS)
  }
  return samples
}

async function startBareHub(stand: Stand) {
  const { url } = await stand.day()
  const port = await freePort()
  return start({
    command: [process.execPath, '--import', 'tsx', join(ROOT, 'tests/bench/bare-hub.ts')],
    port,
    variables: { DATABASE_URL: url },
    well: '/healthz',
  })
}

/** A change until the last of the screens, against a stream that only passes the announcement on. */
export async function measureChange(stand: Stand): Promise<Reading[]> {
  const { url, clinic, cookie } = await stand.day()
  const product = await stand.product()
  const hub = await startBareHub(stand)
  // Changed for the reference: a clinic that the product follows no window of, so that it does not work beside.
  const database = await openDatabase({ url, connections: 2 })
  const beside = await changesOf(await makeDay(database))
  const change = await changesOf(clinic)
  const ours: number[] = []
  const bare: number[] = []
  try {
    for (let round = 0; round < ROUNDS; round += 1) {
      const { revision } = await takeSnapshot(stand)
      const window = encodeURIComponent(`day/${clinic.siteId}/${DAY}`)
      const path = `/api/changes?window=${window}&since=${revision}`
      const screens = await openScreens(product.address, { path, cookie })
      ours.push(...(await measureScreens(screens, change)))
      screens.close()
      const plain = await openScreens(hub.address, { path: '/', cookie: 'none' })
      bare.push(...(await measureScreens(plain, beside)))
      plain.close()
      await pause(200)
    }
  } finally {
    await hub.stop()
    await database.close()
  }
  const figure = `command committed → change on the last of ${SCREENS} screens, p95`
  const behind = { 'ours p50, ms': p50(ours), 'bare p50, ms': p50(bare), samples: ours.length }
  const measured = { figure, unit: 'ms', ours: p95(ours), behind }
  return [
    atMost(measured, 20),
    atMostTimes({ ...measured, figure: 'the same, beside a bare hub', reference: p95(bare) }, 1.5),
  ]
}

import { chmodSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { Worker } from 'node:worker_threads'
import { takeLock } from './lock.ts'

/** A socket's address is at most this long on every system we run on, in bytes. */
const LONGEST_SOCKET = 100

export interface Embedded {
  socket: string
  close: () => Promise<void>
}

/** The embedded engine on a folder of its own, or in memory; it answers on a socket that only this user can reach. */
export async function openEmbedded(folder: string | null): Promise<Embedded> {
  const home = folder === null ? mkdtempSync(join(tmpdir(), 'weirboard-')) : resolve(folder)
  mkdirSync(home, { recursive: true, mode: 0o700 })
  // The engine writes its files readable for all; the folder keeps others out.
  chmodSync(home, 0o700)
  const unlock = takeLock(join(home, 'lock'))
  const near = join(home, 'database.sock')
  const socketHome = near.length <= LONGEST_SOCKET ? home : mkdtempSync(join(tmpdir(), 'weirboard-'))
  const socket = join(socketHome, 'database.sock')
  rmSync(socket, { force: true })
  const tidy = () => {
    unlock()
    if (socketHome !== home) rmSync(socketHome, { recursive: true, force: true })
    if (folder === null) rmSync(home, { recursive: true, force: true })
  }
  try {
    const worker = await startWorker(folder === null ? null : join(home, 'database'), socket)
    return {
      socket,
      close: async () => {
        await stopWorker(worker)
        tidy()
      },
    }
  } catch (error) {
    tidy()
    throw error
  }
}

function startWorker(folder: string | null, socket: string): Promise<Worker> {
  const worker = new Worker(new URL('./embedded-worker.mjs', import.meta.url), {
    workerData: { folder, socket },
    execArgv: [],
  })
  return new Promise((ready, failed) => {
    worker.once('message', () => ready(worker))
    worker.once('error', failed)
    worker.once('exit', (code) =>
      failed(new Error(`The embedded database ended with ${code} while starting.`)),
    )
  })
}

function stopWorker(worker: Worker): Promise<void> {
  // It has ended already.
  if (worker.threadId === -1) return Promise.resolve()
  return new Promise((done) => {
    worker.once('exit', () => done())
    worker.postMessage('close')
  })
}

// The embedded engine in its own thread: on the main one it would stop every timer and stream while it works.
// Plain JavaScript, because a thread starts without the loader that reads TypeScript.
import { parentPort, workerData } from 'node:worker_threads'
import { PGlite } from '@electric-sql/pglite'
import { PGLiteSocketServer } from '@electric-sql/pglite-socket'

const { folder, socket } = workerData

const database = await PGlite.create(folder === null ? {} : { dataDir: folder })
// One connection: the engine has one session, and two would mix their unnamed statements.
const server = new PGLiteSocketServer({ db: database, path: socket, maxConnections: 1 })
await server.start()
parentPort.postMessage('ready')

parentPort.once('message', async () => {
  await server.stop()
  await database.close()
  parentPort.postMessage('closed')
  parentPort.close()
})

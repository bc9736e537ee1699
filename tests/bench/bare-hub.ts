import { createServer, type ServerResponse } from 'node:http'
import postgres from 'postgres'

// The plainest stream there can be: one listener, and each announcement written to everyone as it came.
const { DATABASE_URL = '', PORT } = process.env
const sql = postgres(DATABASE_URL, { max: 1, onnotice: () => {} })
const screens = new Set<ServerResponse>()

await sql.listen('weirboard', (payload) => {
  const event = Buffer.from(`id: ${payload}\nevent: change\ndata: ${payload}\n\n`)
  for (const screen of screens) screen.write(event)
})

const server = createServer((request, response) => {
  if (request.url === '/healthz') return void response.end('ok')
  response.writeHead(200, { 'content-type': 'text/event-stream; charset=utf-8', 'cache-control': 'no-store' })
  response.socket?.setNoDelay(true)
  response.write(': open\n\n')
  screens.add(response)
  response.once('close', () => screens.delete(response))
})
server.listen(Number(PORT), '127.0.0.1')
process.on('SIGTERM', () => process.exit(0))

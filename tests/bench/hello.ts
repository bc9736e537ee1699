import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { freePort, ROOT, type Running, runToEnd, start } from './processes.ts'

const FOLDER = join(ROOT, '.tests/hello')
const NEXT = join(ROOT, 'node_modules/next/dist/bin/next')
const STAMP = join(FOLDER, '.next/bench')

/** The least the framework can do: one page, one route that is read and one that is sent to. */
const FILES: Record<string, string> = {
  'package.json': '{ "name": "hello", "private": true }\n',
  'next.config.mjs': `export default { turbopack: { root: ${JSON.stringify(ROOT)} } }\n`,
  'app/layout.jsx': `export const dynamic = 'force-dynamic'
export default function Layout({ children }) {
  return <html lang="en"><body>{children}</body></html>
}
`,
  'app/page.jsx': `export default function Page() {
  return <h1>Hello, world</h1>
}
`,
  'app/api/hello/route.js': `export const GET = () => Response.json({ hello: 'world' })
export const POST = async (request) => Response.json(await request.json())
`,
}

const versionOfNext = (): string =>
  (JSON.parse(readFileSync(join(ROOT, 'node_modules/next/package.json'), 'utf8')) as { version: string })
    .version

function build(): void {
  const stamp = JSON.stringify([versionOfNext(), FILES])
  if (existsSync(STAMP) && readFileSync(STAMP, 'utf8') === stamp) return
  mkdirSync(join(FOLDER, 'app/api/hello'), { recursive: true })
  for (const [path, text] of Object.entries(FILES)) writeFileSync(join(FOLDER, path), text)
  runToEnd([process.execPath, NEXT, 'build'], FOLDER)
  writeFileSync(STAMP, stamp)
}

/** The framework's own hello world, built for production by the same version and served by the framework itself. */
export async function startHello(): Promise<Running> {
  build()
  const port = await freePort()
  const command = [process.execPath, NEXT, 'start', '-p', `${port}`, '-H', '127.0.0.1']
  return start({ command, port, folder: FOLDER, well: '/api/hello' })
}

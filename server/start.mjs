// One command runs it: install, build, migrate, an invented clinic on first run, serve. Plain JavaScript, because
// it runs before anything is installed; what is up to date is not done again.
import { spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('..', import.meta.url))
const SOURCES = ['app', 'server', 'shared', 'next.config.ts', 'package.json', 'tsconfig.json']

const [major, minor] = process.versions.node.split('.').map(Number)
if (major < 20 || (major === 20 && minor < 19)) {
  fail(
    `Node ${process.versions.node} is too old.`,
    'Weirboard needs Node 20.19 or later to run.',
    'Install a current Node.js and start again.',
  )
}

/** Ends with an error in three parts: what, why it matters, what to do. */
function fail(what, why, what_to_do) {
  console.error(`${what}\n${why}\n${what_to_do}`)
  process.exit(1)
}

/** An error that already says its three parts is said as it is; of any other, what it says is the first. */
function failWith(error) {
  const text = error instanceof Error ? error.message : String(error)
  const [what, why, todo, ...more] = text.split('\n')
  if (what && why && todo && more.length === 0) fail(what, why, todo)
  fail(
    `Weirboard did not start: ${text.replaceAll('\n', ' ')}`,
    'Nobody can work with it until it does; what was kept before is untouched.',
    'Mend what the first line names and start again.',
  )
}

function run(command, args, why) {
  const { NODE_ENV: _, ...environment } = process.env
  const { status, signal } = spawnSync(command, args, { cwd: root, stdio: 'inherit', env: environment })
  if (signal) process.exit(130)
  if (status !== 0)
    fail(
      `\`${command} ${args.join(' ')}\` failed.`,
      why,
      'Read the lines above, mend what they name, and start again.',
    )
}

const digestOfFile = (path) =>
  createHash('sha256')
    .update(readFileSync(join(root, path)))
    .digest('hex')

function digestOfSources() {
  const hash = createHash('sha256')
  for (const source of SOURCES) {
    const paths = source.includes('.')
      ? [source]
      : readdirSync(join(root, source), { recursive: true, withFileTypes: true })
          .filter((entry) => entry.isFile())
          .map((entry) => join(entry.parentPath ?? entry.path, entry.name).slice(root.length))
    for (const path of paths.sort()) hash.update(path).update(readFileSync(join(root, path)))
  }
  return hash.digest('hex')
}

const stood = (path) => (existsSync(join(root, path)) ? readFileSync(join(root, path), 'utf8') : null)

export function install() {
  const lock = digestOfFile('package-lock.json')
  if (stood('node_modules/.weirboard') === lock) return
  run('npm', ['ci', '--include=dev', '--no-audit', '--no-fund'], 'Without its libraries nothing can run.')
  writeFileSync(join(root, 'node_modules/.weirboard'), lock)
}

export function build() {
  const sources = digestOfSources()
  if (stood('.next/weirboard') === sources) return
  run(
    process.execPath,
    [join(root, 'node_modules/next/dist/bin/next'), 'build'],
    'Without a build there are no screens to serve.',
  )
  mkdirSync(join(root, '.next'), { recursive: true })
  writeFileSync(join(root, '.next/weirboard'), sources)
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  process.chdir(root)
  const dev = process.argv.includes('--dev')
  install()
  // The same process goes on to serve: a signal to it is a signal to everything, and no child is left behind.
  const { register } = await import('tsx/esm/api')
  register()
  try {
    // Before the build: it must not be changed under a process that serves it.
    if (!process.env.DATABASE_URL) {
      const { refuseHeld } = await import('../db/lock.ts')
      refuseHeld(join(process.env.DATA_FOLDER || '.data', 'lock'))
    }
    if (!dev) build()
    process.env.NODE_ENV = dev ? 'development' : 'production'
    const { serve } = await import('./main.ts')
    await serve({ dev })
  } catch (error) {
    failWith(error)
  }
}

// One command proves it: install, browser, types, lint, layers, tests on both engines, build, browser stories.
// Plain JavaScript, because it runs before anything is installed. Its last line is `N passed, N failed`.
import { spawnSync } from 'node:child_process'
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { build, install } from '../server/start.mjs'

const root = fileURLToPath(new URL('..', import.meta.url))
process.chdir(root)
let passed = 0
let failed = 0

const { NODE_ENV: _, ...environment } = process.env
const bin = (name) => join(root, 'node_modules/.bin', name)

function run(command, args, more = {}) {
  const { status } = spawnSync(command, args, {
    cwd: root,
    stdio: 'inherit',
    env: { ...environment, ...more },
  })
  return status === 0
}

function step(name, command, args, more) {
  const began = Date.now()
  console.log(`\n── ${name}`)
  const good = run(command, args, more)
  console.log(`── ${name}: ${good ? 'passed' : 'FAILED'} in ${((Date.now() - began) / 1000).toFixed(1)} s`)
  return good
}

/** A step that counts as one test. */
function check(name, command, args) {
  if (step(name, command, args)) passed += 1
  else failed += 1
}

/** A step whose runner counts for itself, in a JSON file; a run that counted nothing has failed. */
function counted(name, file, count, command, args, more) {
  rmSync(file, { force: true })
  const good = step(name, command, args, more)
  const before = failed
  if (existsSync(file)) {
    const numbers = count(JSON.parse(readFileSync(file, 'utf8')))
    passed += numbers.passed
    failed += numbers.failed
  }
  if (!good && failed === before) failed += 1
}

/** A Chromium: the system's, else Debian's package, else the test library's own. */
function findChromium() {
  const known = [
    process.env.CHROMIUM,
    '/usr/bin/chromium',
    '/usr/bin/chromium-browser',
    '/usr/bin/google-chrome',
  ]
  const found = () => known.find((path) => path && existsSync(path))
  if (found()) return found()
  if (existsSync('/usr/bin/apt-get') && process.getuid?.() === 0) {
    console.log('── installing Chromium')
    const quiet = { DEBIAN_FRONTEND: 'noninteractive' }
    run('apt-get', ['update', '-qq'], quiet)
    run('apt-get', ['install', '-y', '-qq', '--no-install-recommends', 'chromium', 'fonts-liberation'], quiet)
    if (found()) return found()
  }
  run(bin('playwright'), ['install', 'chromium'])
  return undefined
}

install()
mkdirSync('.tests', { recursive: true })
const chromium = findChromium()

check('types', bin('tsc'), ['--noEmit'])
check('lint and format', bin('biome'), ['check', '.'])
counted(
  'tests',
  '.tests/vitest.json',
  (report) => ({ passed: report.numPassedTests, failed: report.numFailedTests }),
  bin('vitest'),
  [
    'run',
    '-c',
    'tests/vitest.config.ts',
    '--reporter=default',
    '--reporter=json',
    '--outputFile.json=.tests/vitest.json',
  ],
)
build()
passed += 1
counted(
  'screens',
  '.tests/screens.json',
  (report) => ({ passed: report.stats.expected + report.stats.flaky, failed: report.stats.unexpected }),
  bin('playwright'),
  ['test', '-c', 'tests/playwright.config.ts'],
  chromium ? { CHROMIUM: chromium } : {},
)

console.log(`\n${passed} passed, ${failed} failed`)
process.exit(failed === 0 ? 0 : 1)

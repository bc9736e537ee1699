import { spawnSync } from 'node:child_process'
import { existsSync, readFileSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { atLeast, type Reading } from './figures.ts'
import { newFolder, ROOT } from './processes.ts'

/** Of each format, in a test of its own. */
const RUNS = 100_000
const FORMATS = ['CSV', 'FHIR', 'NDJSON', 'iCalendar']
const FILE = 'tests/server/imports/fuzz.test.ts'
/** Whoever takes longer has hung. */
const LONGEST_RUN = 30 * 60_000

interface Fuzzed {
  format: string
  inputs: number
  judged: number
  took: number
  slowest: number
  longest: number
}
interface Report {
  testResults: { assertionResults: { status: string; title: string; meta?: { fuzzed?: Fuzzed } }[] }[]
}

/** The import's own fuzz tests with more inputs: a crash, a hang or a row that is not accounted for fails one. */
export async function measureFuzz(): Promise<Reading[]> {
  const folder = newFolder()
  const report = join(folder, 'fuzz.json')
  const vitest = join(ROOT, 'node_modules/vitest/vitest.mjs')
  const args = [
    'run',
    '-c',
    'tests/vitest.config.ts',
    '--project',
    'core',
    FILE,
    '-t',
    'no crash',
    '--reporter=json',
  ]
  const { NODE_ENV: _, ...environment } = process.env
  spawnSync(process.execPath, [vitest, ...args, `--outputFile=${report}`, `--testTimeout=${LONGEST_RUN}`], {
    cwd: ROOT,
    stdio: 'ignore',
    timeout: LONGEST_RUN,
    killSignal: 'SIGKILL',
    env: { ...environment, NODE_ENV: 'test', WEIRBOARD_FUZZ: `${RUNS}` },
  })
  const said: Report = existsSync(report)
    ? (JSON.parse(readFileSync(report, 'utf8')) as Report)
    : { testResults: [] }
  rmSync(folder, { recursive: true, force: true })
  const tests = said.testResults.flatMap(({ assertionResults }) => assertionResults)
  return FORMATS.map((format) => {
    const test = tests.find(({ meta }) => meta?.fuzzed?.format === format)
    const fuzzed = test?.meta?.fuzzed
    return atLeast(
      {
        figure: `fuzzed ${format}, 0 crashes, 0 hangs over 2 s, 0 rows unaccounted for`,
        unit: 'inputs',
        ours: test?.status === 'passed' ? (fuzzed?.inputs ?? 0) : 0,
        behind: {
          'read row by row': fuzzed?.judged ?? Number.NaN,
          seconds: Math.round((fuzzed?.took ?? Number.NaN) / 1000),
          'slowest, ms': Math.round(fuzzed?.slowest ?? Number.NaN),
          'longest, bytes': fuzzed?.longest ?? Number.NaN,
        },
      },
      RUNS,
    )
  })
}

import { spawnSync } from 'node:child_process'
import { readFileSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { atLeast, type Reading } from './figures.ts'
import { newFolder, ROOT } from './processes.ts'

/** Each in a test of its own; together 100,000 inputs. */
const FORMATS = 4
const RUNS = 25_000
const FILE = 'tests/server/imports/fuzz.test.ts'

interface Report {
  numPassedTests: number
  numFailedTests: number
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
  spawnSync(process.execPath, [vitest, ...args, `--outputFile=${report}`, '--testTimeout=600000'], {
    cwd: ROOT,
    stdio: 'ignore',
    env: { ...environment, NODE_ENV: 'test', WEIRBOARD_FUZZ: `${RUNS}` },
  })
  const said = JSON.parse(readFileSync(report, 'utf8')) as Report
  rmSync(folder, { recursive: true, force: true })
  const stands = said.numFailedTests === 0 && said.numPassedTests === FORMATS
  return [
    atLeast(
      {
        figure: 'fuzzed imports, 0 crashes, 0 rows unaccounted for',
        unit: 'inputs',
        ours: stands ? RUNS * FORMATS : 0,
        behind: { 'tests passed': said.numPassedTests, 'tests failed': said.numFailedTests },
      },
      100_000,
    ),
  ]
}

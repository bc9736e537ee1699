import { writeFileSync } from 'node:fs'
import { cpus, loadavg } from 'node:os'
import { parseArgs } from 'node:util'
import { measureBoard } from './board-snapshot.ts'
import { measureChange } from './change-to-screens.ts'
import { measureClaims } from './claims.ts'
import type { Reading, Row } from './figures.ts'
import { measureFirstLoad } from './first-load.ts'
import { measureFuzz } from './fuzzing.ts'
import { measureImport } from './importing.ts'
import { measureJudging } from './judging.ts'
import { measureKills } from './kills.ts'
import { measurePast } from './past.ts'
import { measurePlanOnScreen } from './plan-on-screen.ts'
import { measurePlans } from './plans.ts'
import { measureSecondStart } from './second-start.ts'
import { openStand, type Stand } from './stand.ts'
import { tableOf } from './table.ts'

interface Measurement {
  name: string
  measure: (stand: Stand) => Promise<Reading[]>
}

/** In the order they are run: those that share a process beside each other. */
const MEASUREMENTS: readonly Measurement[] = [
  { name: 'board', measure: measureBoard },
  { name: 'past', measure: measurePast },
  { name: 'change', measure: measureChange },
  { name: 'first-load', measure: measureFirstLoad },
  { name: 'plans', measure: measurePlans },
  { name: 'plan-on-screen', measure: measurePlanOnScreen },
  { name: 'judging', measure: measureJudging },
  { name: 'claims', measure: measureClaims },
  { name: 'import', measure: measureImport },
  { name: 'second-start', measure: measureSecondStart },
  { name: 'kills', measure: measureKills },
  { name: 'fuzz', measure: measureFuzz },
]

/** Figures the house has set itself and has nothing to measure by yet. */
const NOT_BUILT: readonly Row[] = [
  {
    figure: 'repairs: median; equal to exhaustive search and to the MILP',
    limit: '≤ 300 ms',
    notBuilt: true,
  },
  { figure: 'rehearsal, simulated days a second', limit: '≥ 200', notBuilt: true },
]

const { values } = parseArgs({
  options: { json: { type: 'string' }, only: { type: 'string', multiple: true } },
})
const wanted = values.only?.flatMap((names) => names.split(',')) ?? MEASUREMENTS.map(({ name }) => name)
const unknown = wanted.filter((name) => !MEASUREMENTS.some((each) => each.name === name))
if (unknown.length > 0) {
  console.error(
    `There is no figure named ${unknown.join(', ')}.\nNothing was measured.\nName some of: ${MEASUREMENTS.map(({ name }) => name).join(', ')}.`,
  )
  process.exit(2)
}

const stand = openStand()
/** Asked to stop, nothing it started is left behind. */
for (const signal of ['SIGINT', 'SIGTERM'] as const) {
  process.once(signal, () => void stand.close().finally(() => process.exit(130)))
}
const rows: Row[] = []
const failures: { name: string; error: string }[] = []
try {
  for (const { name, measure } of MEASUREMENTS.filter((each) => wanted.includes(each.name))) {
    const began = Date.now()
    console.error(`── ${name}`)
    try {
      const read = await measure(stand)
      rows.push(...read)
      console.error(tableOf(read))
    } catch (error) {
      failures.push({ name, error: error instanceof Error ? (error.stack ?? error.message) : String(error) })
      console.error(`── ${name} could not be measured: ${failures.at(-1)?.error}`)
    }
    console.error(`── ${name}: ${((Date.now() - began) / 1000).toFixed(1)} s`)
  }
} finally {
  await stand.close()
}
if (!values.only) rows.push(...NOT_BUILT)

console.log(`\n${tableOf(rows)}`)
if (values.json) {
  const machine = { node: process.version, cores: cpus().length, load: loadavg() }
  writeFileSync(values.json, `${JSON.stringify({ machine, rows, failures }, null, 2)}\n`)
}
const missed = rows.filter((row) => 'reached' in row && !row.reached)
console.log(
  `\n${rows.filter((row) => 'reached' in row && row.reached).length} reached, ${missed.length} missed, ${failures.length} not measured`,
)
process.exit(missed.length + failures.length === 0 ? 0 : 1)

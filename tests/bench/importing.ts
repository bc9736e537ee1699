import { Agent } from 'node:http'
import { join } from 'node:path'
import { openDatabase } from '#db/open.ts'
import { must } from '#shared/base/assert.ts'
import { makeDatabase } from '#tests/support/postgres.ts'
import { DAY, done, foundClinic, ROOMS, signIn } from './clinic.ts'
import { atMost, type Reading } from './figures.ts'
import { ask, askWell } from './http.ts'
import { freePort, newFolder, ROOT, removeFolder, start } from './processes.ts'
import { PRODUCT, type Stand } from './stand.ts'

const ROWS = 1_000
const TIMES = 3
const WORK = ['RCT 36', 'comp 46 MO', 'fissure sealants 16 26 36 46', 'exam', 'extraction 28']

/** A list of a thousand new appointments, each time of other patients. */
function dayList(turn: number): string {
  const rows = Array.from({ length: ROWS }, (_, index) => {
    const minutes = 8 * 60 + (index % 36) * 15
    const start = `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`
    const born = `${1940 + (index % 70)}-03-17`
    return `b${turn}-${index},${DAY},${start},15,Family${turn}x${index},Given,${born},${(index % ROOMS) + 1},${WORK[index % WORK.length]}`
  })
  return ['id,day,start,minutes,family,given,born,operatory,work', ...rows].join('\n')
}

async function furnish(place: Parameters<typeof openDatabase>[0]): Promise<string> {
  const database = await openDatabase(place)
  const clinic = await foundClinic(database)
  for (let index = 0; index < ROOMS; index += 1) {
    const room = { siteId: clinic.siteId, name: `${index + 1}`, kind: 'surgery', latexSafe: false }
    await done(clinic, 'operatory.add', room)
  }
  await done(clinic, 'person.add', { name: 'Nell Desk', shortName: 'N. Desk', roles: ['front-desk'] })
  const members = await clinic.read('member')
  const desk = must(
    members.find(({ roles }) => roles.includes('front-desk')),
    'the desk was added',
  )
  const cookie = await signIn(clinic, desk.id)
  await database.close()
  return cookie
}

/** The longest that the process was deaf while it took a thousand appointments, in ms. */
async function measureOn(
  engine: string,
  { cookie, variables }: { cookie: string; variables: Record<string, string> },
): Promise<Reading> {
  const [port, probe] = [await freePort(), await freePort()]
  const loaded = ['--import', join(ROOT, 'tests/bench/event-loop-probe.mjs')]
  const [node = '', ...script] = PRODUCT
  const product = await start({
    command: [node, ...loaded, ...script],
    port,
    variables: { ...variables, BENCH_PROBE_PORT: `${probe}`, CLINIC: 'real' },
    well: '/healthz',
  })
  const agent = new Agent({ keepAlive: true })
  const longest = async (): Promise<number> => {
    const { body } = await ask(`http://127.0.0.1:${probe}/`, { agent })
    return (JSON.parse(body.toString()) as { longestMs: number }).longestMs
  }
  const blocks: number[] = []
  const took: number[] = []
  try {
    for (let turn = 0; turn < TIMES; turn += 1) {
      await longest()
      const told = new URLSearchParams({ mode: 'take', name: `list-${turn}.csv`, source: `list ${turn}` })
      const answer = await askWell(`${product.address}/api/import?${told}`, {
        agent,
        cookie,
        text: dayList(turn),
      })
      const said = JSON.parse(answer.body.toString()) as { counts: Record<string, number> | null }
      if (said.counts?.new !== ROWS) throw new Error(`Not all was taken: ${answer.body}`)
      took.push(answer.ms)
      blocks.push(await longest())
    }
  } finally {
    agent.destroy()
    await product.stop()
  }
  return atMost(
    {
      figure: `import of ${ROWS} appointments, longest block of the event loop, ${engine}`,
      unit: 'ms',
      ours: Math.max(...blocks),
      behind: {
        'blocks, ms': blocks.map(Math.round).join(' '),
        'whole import, ms': took.map(Math.round).join(' '),
      },
    },
    100,
  )
}

/** A thousand appointments brought in while the process goes on serving, on both engines. */
export async function measureImport(stand: Stand): Promise<Reading[]> {
  const url = await makeDatabase((await stand.postgres()).url)
  const folder = newFolder()
  const embedded = newFolder()
  try {
    return [
      await measureOn('PostgreSQL', {
        cookie: await furnish({ url }),
        variables: { DATABASE_URL: url, DATA_FOLDER: folder },
      }),
      await measureOn('PGlite', {
        cookie: await furnish({ folder: embedded }),
        variables: { DATA_FOLDER: embedded },
      }),
    ]
  } finally {
    removeFolder(folder)
    removeFolder(embedded)
  }
}

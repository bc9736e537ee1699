import { randomBytes } from 'node:crypto'
import { Agent } from 'node:http'
import { join } from 'node:path'
import { openDatabase } from '#db/open.ts'
import { must } from '#shared/base/assert.ts'
import { type Day, dayAfter } from '#shared/base/moment.ts'
import { makeDatabase } from '#tests/support/postgres.ts'
import { DAY, done, foundClinic, ROOMS, signIn } from './clinic.ts'
import { atMost, type Reading } from './figures.ts'
import { ask, askWell } from './http.ts'
import { freePort, newFolder, ROOT, type Running, removeFolder, start } from './processes.ts'
import { PRODUCT, type Stand } from './stand.ts'

/** Files of one kind, brought one after the other while the process goes on serving. */
interface Bringing {
  what: string
  name: string
  files: (turn: number) => string | Buffer
  times: number
  /** Whether the file is only looked at, or taken; and what is said of it beside its name. */
  mode: 'preview' | 'take'
  said?: Record<string, string>
  /** What each file comes to: a bench that brings nothing measures nothing. */
  comesTo: (turn: number) => Record<string, number>
}

const WORK = ['RCT 36', 'comp 46 MO', 'fissure sealants 16 26 36 46', 'exam', 'extraction 28']
const two = (value: number): string => String(value).padStart(2, '0')
const timeAt = (index: number): string => {
  const minutes = 8 * 60 + (index % 36) * 15
  return `${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`
}

const ROWS = 1_000
/** A list of a thousand new appointments, each time of other patients. */
function dayList(turn: number): string {
  const rows = Array.from({ length: ROWS }, (_, index) => {
    const born = `${1940 + (index % 70)}-03-17`
    return `b${turn}-${index},${DAY},${timeAt(index)},15,Family${turn}x${index},Given,${born},${(index % ROOMS) + 1},${WORK[index % WORK.length]}`
  })
  return ['id,day,start,minutes,family,given,born,operatory,work', ...rows].join('\n')
}

const MEGABYTE = 1024 * 1024
const VISITS_IN_BULK = 200
/** A bulk export just below the limit: two hundred visits among pictures, which no packing makes shorter. */
function bulkExport(turn: number): Buffer {
  const lines: string[] = []
  for (let index = 0; index < VISITS_IN_BULK; index += 1)
    lines.push(
      JSON.stringify({
        resourceType: 'Patient',
        id: `p${turn}-${index}`,
        name: [{ family: `Bulk${turn}x${index}`, given: ['Given'] }],
        birthDate: `${1940 + (index % 70)}-03-17`,
      }),
      JSON.stringify({
        resourceType: 'Appointment',
        id: `n${turn}-${index}`,
        status: 'booked',
        start: `${DAY}T${timeAt(index)}:00Z`,
        minutesDuration: 15,
        participant: [{ actor: { reference: `Patient/p${turn}-${index}` }, status: 'accepted' }],
      }),
    )
  let size = lines.join('\n').length
  while (size < 39.5 * MEGABYTE) {
    const picture = JSON.stringify({
      resourceType: 'Binary',
      data: randomBytes(48 * 1024).toString('base64'),
    })
    lines.push(picture)
    size += picture.length + 1
  }
  return Buffer.from(lines.join('\n'))
}

/** A calendar's summary is read as a name only where it is of letters. */
const lettersOf = (index: number): string =>
  `Series${[...`${index}`].map((figure) => 'abcdefghij'[Number(figure)]).join('')}`

/** Series are read from today on, so theirs are days to come. */
const TOMORROW = dayAfter(new Date().toISOString().slice(0, 10) as Day, 1)
const SERIES_DAYS = 50
/** As many visits as the series of one file may hold: a hundred a day for fifty days. */
const VISITS_IN_SERIES = 5_000
function denseSeries(turn: number): string {
  const events = Array.from({ length: VISITS_IN_SERIES / SERIES_DAYS }, (_, index) => [
    'BEGIN:VEVENT',
    `UID:s${turn}-${index}`,
    'DTSTAMP:20260101T080000Z',
    `DTSTART:${TOMORROW.replaceAll('-', '')}T${timeAt(index).replace(':', '')}00`,
    'DURATION:PT15M',
    `RRULE:FREQ=DAILY;COUNT=${SERIES_DAYS}`,
    `SUMMARY:${lettersOf(index)}\\, Given: ${WORK[index % WORK.length]}`,
    'END:VEVENT',
  ])
  return ['BEGIN:VCALENDAR', ...events.flat(), 'END:VCALENDAR', ''].join('\r\n')
}

/** A row of one day, said to be the whole list of all the days of those series: short, and compared with all of them. */
const oneRow = (): string =>
  ['id,day,start,minutes,family,given,born', `one,${TOMORROW},08:00,15,Only,Given,1990-03-17`].join('\n')

const BRINGINGS: readonly Bringing[] = [
  {
    what: `${ROWS} appointments`,
    name: 'list.csv',
    files: dayList,
    times: 3,
    mode: 'take',
    comesTo: () => ({ new: ROWS }),
  },
  {
    what: 'a bulk export of 40 MB',
    name: 'bulk.ndjson',
    files: bulkExport,
    times: 2,
    mode: 'take',
    comesTo: () => ({ new: VISITS_IN_BULK }),
  },
  {
    what: `series of ${VISITS_IN_SERIES} visits`,
    name: 'series.ics',
    files: () => denseSeries(0),
    times: 2,
    mode: 'take',
    comesTo: (turn) => (turn === 0 ? { new: VISITS_IN_SERIES } : { unchanged: VISITS_IN_SERIES }),
  },
  {
    what: `one row said to be all of ${VISITS_IN_SERIES} visits`,
    name: 'series.ics',
    files: oneRow,
    times: 2,
    mode: 'preview',
    said: { wholeOf: `${TOMORROW}..${dayAfter(TOMORROW, SERIES_DAYS)}` },
    comesTo: () => ({ new: 1, vanished: VISITS_IN_SERIES }),
  },
]

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

/** A process that is measured, and what it says of its event loop. */
interface Measured {
  product: Running
  cookie: string
  agent: Agent
  /** The longest that it was deaf since it was last asked, ms. */
  longest: () => Promise<number>
}

async function bring(
  { product, cookie, agent, longest }: Measured,
  { name, files, times, mode, said, comesTo }: Bringing,
) {
  const blocks: number[] = []
  const took: number[] = []
  for (let turn = 0; turn < times; turn += 1) {
    const file = files(turn)
    const told = new URLSearchParams({ mode, name, source: name, ...said })
    await longest()
    const answer = await askWell(`${product.address}/api/import?${told}`, { agent, cookie, text: file })
    blocks.push(await longest())
    took.push(answer.ms)
    const { counts, preview } = JSON.parse(answer.body.toString()) as {
      counts?: Record<string, number>
      preview?: { counts: Record<string, number> }
    }
    const came = counts ?? preview?.counts ?? {}
    for (const [key, count] of Object.entries(comesTo(turn)))
      if (came[key] !== count) throw new Error(`Of ${name} not ${count} ${key}: ${JSON.stringify(came)}`)
  }
  return { blocks, took }
}

/** The longest that the process was deaf while it took each kind of file, in ms. */
async function measureOn(
  engine: string,
  { cookie, variables }: { cookie: string; variables: Record<string, string> },
): Promise<Reading[]> {
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
  const readings: Reading[] = []
  try {
    for (const bringing of BRINGINGS) {
      const { blocks, took } = await bring({ product, cookie, agent, longest }, bringing)
      readings.push(
        atMost(
          {
            figure: `import of ${bringing.what}, longest block of the event loop, ${engine}`,
            unit: 'ms',
            ours: Math.max(...blocks),
            behind: {
              'blocks, ms': blocks.map(Math.round).join(' '),
              'whole import, ms': took.map(Math.round).join(' '),
            },
          },
          100,
        ),
      )
    }
  } finally {
    agent.destroy()
    await product.stop()
  }
  return readings
}

/** Files brought in while the process goes on serving, on both engines. */
export async function measureImport(stand: Stand): Promise<Reading[]> {
  const url = await makeDatabase((await stand.postgres()).url)
  const folder = newFolder()
  const embedded = newFolder()
  try {
    return [
      ...(await measureOn('PostgreSQL', {
        cookie: await furnish({ url }),
        variables: { DATABASE_URL: url, DATA_FOLDER: folder },
      })),
      ...(await measureOn('PGlite', {
        cookie: await furnish({ folder: embedded }),
        variables: { DATA_FOLDER: embedded },
      })),
    ]
  } finally {
    removeFolder(folder)
    removeFolder(embedded)
  }
}

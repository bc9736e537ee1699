import { readdirSync, readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { parseCsv } from '#server/imports/csv.ts'
import { parseFhir, parseNdjson } from '#server/imports/fhir.ts'
import { parseICalendar } from '#server/imports/icalendar.ts'
import type { ReadOptions } from '#server/imports/incoming.ts'
import { readNow } from '#server/imports/read-upload.ts'
import type { Incoming } from '#shared/schedule/incoming.ts'
import { runs, said } from '../../support/zone.ts'
import { CLINICAL } from './fhir-entries.ts'
import { type Hostile, hostileBundle, hostileCalendar, hostileCsv, hostileLines } from './hostile.ts'
import { importFile, list, OPTIONS, row, smallClinic } from './small-clinic.ts'

const FIXTURES = new URL('../../fixtures/', import.meta.url)
const filesOf = (folder: string, end: string): Buffer[] =>
  readdirSync(new URL(folder, FIXTURES))
    .filter((name) => name.endsWith(end))
    .map((name) => readFileSync(new URL(`${folder}${name}`, FIXTURES)))

const BUNDLE = Buffer.from(
  JSON.stringify({
    resourceType: 'Bundle',
    type: 'collection',
    entry: [
      {
        resource: {
          resourceType: 'Patient',
          id: 'p',
          name: [{ family: 'Ashgrove' }],
          birthDate: '1990-05-01',
        },
      },
      {
        resource: {
          resourceType: 'Appointment',
          id: 'a',
          status: 'booked',
          start: '2026-11-24T09:00:00Z',
          end: '2026-11-24T09:45:00Z',
          reasonCode: [{ text: 'RCT 36' }],
          participant: [{ actor: { reference: 'Patient/p' }, status: 'accepted' }],
        },
      },
      {
        resource: {
          resourceType: 'AllergyIntolerance',
          id: 'l',
          patient: { reference: 'Patient/p' },
          code: { text: 'Latex' },
          clinicalStatus: { coding: [{ system: CLINICAL, code: 'active' }] },
        },
      },
      {
        resource: {
          resourceType: 'ServiceRequest',
          id: 's',
          status: 'active',
          intent: 'order',
          subject: { reference: 'Patient/p' },
          bodySite: [{ text: '36' }],
        },
      },
    ],
  }),
)
const NDJSON = Buffer.from(
  (JSON.parse(BUNDLE.toString()) as { entry: { resource: object }[] }).entry
    .map(({ resource }) => JSON.stringify(resource))
    .join('\n'),
)

/** A real file with bytes changed, dropped, doubled or cut: the shape of what goes wrong outside. */
const broken = (files: Buffer[]): fc.Arbitrary<Buffer> =>
  fc
    .tuple(
      fc.constantFrom(...files),
      fc.array(
        fc.record({
          at: fc.double({ min: 0, max: 1, noNaN: true }),
          how: fc.constantFrom('change', 'drop', 'double', 'cut', 'swap'),
          byte: fc.oneof(
            fc.constantFrom(0x0a, 0x0d, 0x22, 0x2c, 0x3b, 0x3a, 0x7b, 0x7d, 0x5b, 0x00, 0xff, 0x31),
            fc.nat(255),
          ),
          length: fc.integer({ min: 1, max: 40 }),
        }),
        { minLength: 1, maxLength: 6 },
      ),
    )
    .map(([file, wounds]) =>
      wounds.reduce((bytes, { at, how, byte, length }) => {
        const from = Math.floor(at * bytes.length)
        const [head, part, tail] = [
          bytes.subarray(0, from),
          bytes.subarray(from, from + length),
          bytes.subarray(from + length),
        ]
        if (how === 'change') return Buffer.concat([head, Buffer.from([byte]), bytes.subarray(from + 1)])
        if (how === 'drop') return Buffer.concat([head, tail])
        if (how === 'double') return Buffer.concat([head, part, part, tail])
        return how === 'cut' ? head : Buffer.concat([head, tail, part])
      }, file),
    )

type Json = null | boolean | number | string | Json[] | { [key: string]: Json }
const ODD: Json[] = [
  null,
  true,
  -1,
  1e308,
  '',
  '\u0000',
  '\uD800',
  'x'.repeat(600),
  [],
  {},
  [null],
  [[]],
  { a: {} },
]

/** Still whole JSON, but one element of it is gone, doubled or something else: what breaks beyond the syntax. */
const wounded = (bundle: Buffer, asText: (json: Json) => string): fc.Arbitrary<Buffer> =>
  fc
    .array(
      fc.record({
        at: fc.infiniteStream(fc.nat(9)),
        how: fc.constantFrom('change', 'drop', 'double'),
        odd: fc.constantFrom(...ODD),
      }),
      { minLength: 1, maxLength: 4 },
    )
    .map((wounds) => {
      const json = JSON.parse(bundle.toString()) as Json
      for (const { at, how, odd } of wounds) wound(json, { at, how, odd: structuredClone(odd) })
      return Buffer.from(asText(json))
    })

function wound(json: Json, { at, how, odd }: { at: Iterator<number>; how: string; odd: Json }): void {
  if (json === null || typeof json !== 'object') return
  const keys = Object.keys(json)
  const dice = at.next().value ?? 0
  const key = keys[dice % Math.max(1, keys.length)]
  if (key === undefined) return
  const inner = (json as { [key: string]: Json })[key] ?? null
  const isLeaf = inner === null || typeof inner !== 'object' || Object.keys(inner).length === 0
  if (!isLeaf && (at.next().value ?? 0) > 1) wound(inner, { at, how, odd })
  else if (Array.isArray(json))
    json.splice(
      Number(key),
      how === 'double' ? 0 : 1,
      ...(how === 'drop' ? [] : [how === 'double' ? inner : odd]),
    )
  else if (how === 'drop') delete json[key]
  else json[key] = how === 'double' ? [inner, inner] : odd
}
const asLines = (json: Json): string => {
  const entries = json !== null && typeof json === 'object' && !Array.isArray(json) ? json.entry : null
  return (Array.isArray(entries) ? entries : [json])
    .map((entry) =>
      JSON.stringify(
        entry !== null && typeof entry === 'object' && !Array.isArray(entry) && entry.resource !== undefined
          ? entry.resource
          : entry,
      ),
    )
    .join('\n')
}

/** What is taken is whole, what is told can be acted on. */
function judge({ appointments, problems }: Incoming): void {
  for (const { text, original } of problems) {
    expect(text.length).toBeGreaterThan(40)
    expect(original).not.toContain('\0')
  }
  for (const { minutes, start, contentHash } of appointments) {
    expect(minutes).toBeGreaterThan(0)
    expect(Number.isSafeInteger(start)).toBe(true)
    expect(contentHash).toHaveLength(64)
  }
}

/** Whether a file was refused as a whole: then nothing of it is taken, and it is told. */
function isRefusedWhole({ appointments, allergies, problems }: Incoming): boolean {
  return appointments.length + allergies.length === 0 && problems.some(({ field }) => field === 'file')
}

/** Every record of a file stands in one of the lists: those that are known to be in it, and those that the reader found. */
function judgeLines(
  { rows, appointments, allergies, problems, passedOver }: Incoming,
  records: readonly number[],
): void {
  const told = new Set([...appointments, ...allergies, ...problems].map(({ line }) => line))
  const passed = passedOver.reduce((sum, each) => sum + (each.rows ?? 1), 0)
  expect(told.size + passed).toBeGreaterThanOrEqual(rows)
  const named = new Set(passedOver.map(({ line }) => line))
  // What is wrong in a record may be told at a line of its own further down in it.
  const lines = [...told, ...named]
  const unnamed = records.filter((from, index) => {
    const next = records[index + 1] ?? Number.POSITIVE_INFINITY
    return !lines.some((line) => line >= from && line < next)
  })
  // Rows that are passed over for one reason are one entry, by the first line.
  expect(unnamed.length).toBeLessThanOrEqual(passed - named.size)
}

const DAY_LIST = readFileSync(new URL('day-list.csv', FIXTURES))
const SHORT_LIST = Buffer.from(
  list(row(), row({ id: 'b', start: '11:00', allergies: 'latex' }), row({ id: '', day: '25/11/2026' })),
)
/** What a run of one format came to, for whoever reads the report: times in milliseconds, lengths in bytes. */
interface Fuzzed {
  format: string
  inputs: number
  /** Of these, read as a file of rows, each of which was accounted for; the others were refused as a whole. */
  judged: number
  took: number
  slowest: number
  longest: number
}
declare module 'vitest' {
  interface TaskMeta {
    fuzzed?: Fuzzed
  }
}

/** Runs in the ordinary test; a bench asks for more. */
const RUNS = Number(process.env.WEIRBOARD_FUZZ ?? runs(20_000))
const DECIDED = runs(1000)
/** A hang of this many milliseconds is a fault. */
const HANG = 2000

/** So much of what a format is fuzzed with must be read, row by row. */
const JUDGED = 0.7

/** Mostly whole outside and hostile inside, else broken anywhere: of that nobody knows what records it holds. */
const mixed = (hostile: fc.Arbitrary<Hostile>, anywhere: fc.Arbitrary<Buffer>): fc.Arbitrary<Hostile> =>
  fc.oneof(
    { weight: 17, arbitrary: hostile },
    { weight: 3, arbitrary: anywhere.map((bytes) => ({ bytes, records: [] })) },
  )

const CSV_FILES = [...filesOf('csv-hard/', '.csv').filter((file) => file.length > 0), SHORT_LIST]
const FORMATS: [
  name: string,
  read: (bytes: Uint8Array, options: ReadOptions) => Incoming,
  inputs: fc.Arbitrary<Hostile>,
][] = [
  ['CSV', parseCsv, mixed(hostileCsv, broken(CSV_FILES))],
  ['FHIR', parseFhir, mixed(hostileBundle, fc.oneof(broken([BUNDLE]), wounded(BUNDLE, JSON.stringify)))],
  ['NDJSON', parseNdjson, mixed(hostileLines, fc.oneof(broken([NDJSON]), wounded(BUNDLE, asLines)))],
  ['iCalendar', parseICalendar, mixed(hostileCalendar, broken(filesOf('ics-hard/', '.ics')))],
]

const DECIDABLE: fc.Arbitrary<Buffer>[] = [
  broken([DAY_LIST.subarray(0, 900), BUNDLE, ...filesOf('ics-hard/', '.ics')]),
  ...[hostileCsv, hostileBundle, hostileLines, hostileCalendar].map((each) => each.map(({ bytes }) => bytes)),
]

describe('broken files', () => {
  it.for(FORMATS)(
    `%s: ${said(RUNS)} inputs, no crash, no hang, every row accounted for`,
    { timeout: 600_000 },
    ([format, read, inputs], { task }) => {
      const fuzzed: Fuzzed = { format, inputs: 0, judged: 0, took: 0, slowest: 0, longest: 0 }
      const started = performance.now()
      fc.assert(
        fc.property(inputs, ({ bytes, records }) => {
          const began = performance.now()
          const incoming = read(bytes, OPTIONS)
          fuzzed.slowest = Math.max(fuzzed.slowest, performance.now() - began)
          fuzzed.longest = Math.max(fuzzed.longest, bytes.length)
          judge(incoming)
          fuzzed.inputs += 1
          if (isRefusedWhole(incoming)) return
          judgeLines(incoming, records)
          fuzzed.judged += 1
        }),
        { numRuns: RUNS, seed: 20261124 },
      )
      fuzzed.took = performance.now() - started
      task.meta.fuzzed = fuzzed
      expect(fuzzed.slowest).toBeLessThan(HANG)
      expect(fuzzed.inputs).toBeGreaterThanOrEqual(RUNS)
      expect(fuzzed.judged / fuzzed.inputs).toBeGreaterThan(JUDGED)
    },
  )

  it(`what is read of them can be decided: ${said(DECIDED)} inputs through the command`, {
    timeout: 240_000,
  }, () => {
    fc.assert(
      fc.property(fc.oneof(...DECIDABLE), (bytes) => {
        try {
          importFile(smallClinic(), bytes)
        } catch (error) {
          expect(String(error)).toContain('import/nothing-read')
        }
      }),
      { numRuns: DECIDED, seed: 20261124 },
    )
  })
})

describe('what no command would take', () => {
  it.each([
    ['a name of 600 letters', row({ patient: 'A'.repeat(600) })],
    ['an operatory of 600 letters', row({ operatory: '9'.repeat(600) })],
    ['work of 9,000 letters', row({ work: 'x'.repeat(9000) })],
  ])('%s is told and the other rows are taken', (_, long) => {
    const { counts, world } = importFile(smallClinic(), list(row(), long.replace(/^a,/, 'b,')))
    expect(counts).toMatchObject({ new: 1, problems: 1 })
    expect(world.importProblem).toMatchObject([{ line: 3, field: 'row' }])
  })
  it('a file of which almost nothing can be taken is refused as a whole', () => {
    const file = list(
      ...Array.from({ length: 3000 }, (_, index) => row({ id: String(index), start: 'soon' })),
    )
    const { counts, world } = importFile(smallClinic(), file)
    expect(counts).toMatchObject({ new: 0, problems: 1 })
    expect(world.importProblem).toMatchObject([{ field: 'file' }])
  })
})

describe('files that are meant to hurt', () => {
  const quick = (bytes: Buffer, format: (typeof FORMATS)[number][1] = parseCsv) => {
    const began = performance.now()
    const incoming = format(bytes, OPTIONS)
    expect(performance.now() - began).toBeLessThan(HANG)
    return incoming
  }
  it.each([
    [
      'a quote that opens on every line',
      Buffer.from(`Date,Time,Patient\n${'2026-11-24,09:00,"A\n'.repeat(20_000)}`),
    ],
    ['one line of commas', Buffer.from(`Date,Time,Patient\n${','.repeat(2_000_000)}`)],
    ['no line end at all', Buffer.from('a'.repeat(4_000_000))],
    ['quotes only', Buffer.from('"'.repeat(1_000_000))],
  ])('%s', (_, bytes) => {
    quick(bytes)
  })
  it('brackets without end', () => {
    expect(quick(Buffer.from('['.repeat(200_000)), parseFhir).problems).toMatchObject([{ field: 'file' }])
  })
  it('components without end, and a series every second', () => {
    quick(Buffer.from('BEGIN:VEVENT\n'.repeat(50_000)), parseICalendar)
    const second = `BEGIN:VCALENDAR\nBEGIN:VEVENT\nUID:x\nDTSTART:20260101T000000Z\nDTEND:20260101T010000Z\nRRULE:FREQ=SECONDLY\nEND:VEVENT\nEND:VCALENDAR`
    expect(quick(Buffer.from(second), parseICalendar).problems).toMatchObject([{ field: 'RRULE' }])
  })
  it.each([
    ['a workbook', Buffer.from('PK\u0003\u0004rest'), /CSV/],
    ['a PDF', Buffer.from('%PDF-1.7'), /PDF/],
    ['a web page', Buffer.from('<!doctype html>'), /XML/],
    ['50 MB', Buffer.alloc(50 * 1024 * 1024, 0x61), /larger than/],
  ])('%s is refused with what to do', (_, bytes, words) => {
    const { incoming } = readNow(bytes, 'file', OPTIONS)
    expect(incoming.appointments).toEqual([])
    expect(incoming.problems[0]?.text).toMatch(words)
  })
})

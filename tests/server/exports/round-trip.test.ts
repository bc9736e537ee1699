import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { makeCell, makeCsv } from '#server/exports/csv.ts'
import { makeFhirBundle } from '#server/exports/fhir.ts'
import { makeICalendar } from '#server/exports/icalendar.ts'
import type { World } from '#shared/facts.ts'
import { runs, said } from '../../support/zone.ts'
import { effect, importFile, list, MORNING, row, smallClinic, ZONE } from '../imports/small-clinic.ts'
import { day } from './days.ts'
import { madeDay } from './made-days.ts'
import { openValidators } from './validators.ts'

const versionOf = () => ({ sequence: 3, at: MORNING })
const bundleOf = (world: World) =>
  makeFhirBundle(world, { now: MORNING, zone: ZONE }) as {
    resourceType: string
    entry: { fullUrl: string; resource: { resourceType: string; id: string } }[]
  }
const FORMATS: [name: string, make: (world: World) => string][] = [
  ['CSV', makeCsv],
  ['FHIR', (world) => JSON.stringify(bundleOf(world))],
  [
    'NDJSON',
    (world) =>
      bundleOf(world)
        .entry.map(({ resource }) => JSON.stringify(resource))
        .join('\n'),
  ],
  ['iCalendar', (world) => makeICalendar(world, { name: 'Quay', detail: true, versionOf, departed: [] })],
  [
    'iCalendar, times only',
    (world) => makeICalendar(world, { name: 'Quay', detail: false, versionOf, departed: [] }),
  ],
]

const DAYS = runs(2000)

// Days that a reader made, and days made of facts that no reader has seen.
describe.each([
  ['read', day],
  ['made', madeDay],
])('import, export, import again changes nothing: a day that was %s', (_, days) => {
  it.each(FORMATS)(`%s, ${said(DAYS)} generated days`, { timeout: 240_000 }, (__, make) => {
    fc.assert(
      fc.property(days, (world) => {
        fc.pre(world.appointment.length > 0)
        const again = importFile(world, make(world))
        expect(again.counts).toMatchObject({ new: 0, changed: 0, cancelled: 0, vanished: 0, problems: 0 })
        expect(effect(again)).toEqual([])
      }),
      { numRuns: DAYS, seed: 20261124 },
    )
  })
})

describe('the FHIR Bundle', () => {
  it('is valid by three independent validators, whole and every resource', { timeout: 120_000 }, () => {
    const validate = openValidators()
    expect(validate({ resourceType: 'Appointment', status: 'maybe' } as never).length).toBeGreaterThan(1)
    expect(validate({ resourceType: 'Bundle', type: 'maybe' } as never).length).toBeGreaterThan(1)
    fc.assert(
      fc.property(fc.oneof(day, madeDay), (world) => {
        const bundle = bundleOf(world)
        expect([bundle, ...bundle.entry.map(({ resource }) => resource)].flatMap(validate)).toEqual([])
      }),
      { numRuns: runs(60), seed: 7 },
    )
  })

  /** R4: Bundle.entry.fullUrl (READ in HL7's definitions), bdl-7 and 2.36.4.1; the form of a UUID by RFC 9562. */
  it('has an address of its own for every entry, and every reference meets one', () => {
    const UUID = /^urn:uuid:[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}$/
    let references = 0
    fc.assert(
      fc.property(day, (world) => {
        const { entry } = bundleOf(world)
        const types = new Map(entry.map(({ fullUrl, resource }) => [fullUrl, resource.resourceType]))
        expect(types.size).toBe(entry.length)
        for (const { fullUrl, resource } of entry) {
          expect(fullUrl).toMatch(UUID)
          expect(fullUrl).toBe(`urn:uuid:${resource.id}`)
        }
        JSON.stringify(entry, (_, value) => {
          if (typeof value?.reference !== 'string') return value
          references += 1
          expect(types.get(value.reference)).toBe(value.type)
          return value
        })
      }),
      { numRuns: runs(60), seed: 8 },
    )
    expect(references).toBeGreaterThan(runs(60))
  })

  it('names a patient who is not among the facts by number, and refers to nothing that is not there', () => {
    const { world } = importFile(smallClinic(), list(row({ work: 'comp 46 MO' })))
    const bundle = bundleOf({ ...world, patient: [] })
    expect(JSON.stringify(bundle)).not.toContain('"type":"Patient","display"')
    const home = importFile(world, JSON.stringify(bundle))
    expect(home.counts).toMatchObject({ new: 0, problems: 0 })
    expect(effect(home)).toEqual([])
  })

  it.each([
    ['Solo', ''],
    ['', 'Ashgrove'],
  ])('brings home a patient with the given name %j and the family name %j', (given, family) => {
    const { world } = importFile(smallClinic(), list(row({ patient: 'Birch, Ann' })))
    const named = { ...world, patient: world.patient.map((each) => ({ ...each, given, family })) }
    const bundle = bundleOf(named)
    const home = importFile(named, JSON.stringify(bundle))
    expect(home.counts).toMatchObject({ new: 0, changed: 0, problems: 0 })
    expect(effect(home)).toEqual([])
    const elsewhere = importFile(smallClinic(), JSON.stringify(bundle)).world
    expect(elsewhere.patient).toMatchObject([{ given, family }])
  })
})

describe('the iCalendar feed', () => {
  const { world } = importFile(
    smallClinic(),
    list(
      row({ patient: 'Ashgrove, Zoë', work: 'comp 46 MO', allergies: 'latex' }),
      row({ id: 'b', start: '11:00', patient: 'Yarrow, Wanda', status: 'cancelled' }),
    ),
  )

  it('names no patient, no words and no allergy unless it is asked to', () => {
    const feed = makeICalendar(world, { name: 'Operatory 1', detail: false, versionOf, departed: [] })
    for (const word of ['Ashgrove', 'Zoë', '1990', 'latex', 'comp 46']) expect(feed).not.toContain(word)
    expect(feed).toContain('DTSTART:20261124T100000Z')
  })

  it('keeps what is cancelled, as cancelled', () => {
    expect(makeICalendar(world, { name: 'x', detail: false, versionOf, departed: [] })).toContain(
      'STATUS:CANCELLED',
    )
  })

  it('folds at 75 octets, never inside a character, and ends lines with CRLF', () => {
    const long = importFile(smallClinic(), list(row({ work: 'é'.repeat(200) }))).world
    const feed = makeICalendar(long, { name: '山'.repeat(60), detail: true, versionOf, departed: [] })
    const lines = feed.split('\r\n')
    expect(lines.every((line) => Buffer.byteLength(line) <= 75)).toBe(true)
    expect(feed).not.toContain('\uFFFD')
    expect(feed.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/)
  })
})

describe('the CSV', () => {
  it.each(['=1+1', '+1', '-1', '@x', '\tx', '\rx', '=HYPERLINK("http://x")'])(
    'a cell %j is not run by a spreadsheet',
    (text) => {
      expect(makeCell(text).replace(/^"/, '')).toMatch(/^'/)
    },
  )

  it('carries no allergy', () => {
    const { world } = importFile(smallClinic(), list(row({ allergies: 'latex' })))
    expect(makeCsv(world)).not.toContain('latex')
  })
})

import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { makeCsv } from '#server/exports/csv.ts'
import { makeFhirBundle } from '#server/exports/fhir.ts'
import { makeICalendar } from '#server/exports/icalendar.ts'
import { instant } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import { runs, said } from '../../support/zone.ts'
import { effect, importFile, list, MORNING, row, smallClinic, ZONE } from '../imports/small-clinic.ts'
import { day } from './days.ts'
import { madeDay } from './made-days.ts'

const versionOf = () => ({ sequence: 3, at: MORNING })
const FORMATS: [name: string, make: (world: World) => string][] = [
  ['CSV', makeCsv],
  ['FHIR', (world) => JSON.stringify(makeFhirBundle(world, { now: MORNING, zone: ZONE }))],
  ['iCalendar', (world) => makeICalendar(world, { name: 'Quay', detail: true, versionOf, departed: [] })],
  [
    'iCalendar, times only',
    (world) => makeICalendar(world, { name: 'Quay', detail: false, versionOf, departed: [] }),
  ],
]

type Visit = World['appointment'][number]
const withEach = (world: World, change: (visit: Visit) => Partial<Visit>): World => ({
  ...world,
  appointment: world.appointment.map((visit) => ({ ...visit, ...change(visit) })),
})
const HOUR = 3_600_000
const cancelled = (world: World) => withEach(world, () => ({ status: 'cancelled' }))
const moved = (world: World) =>
  withEach(world, ({ start }) => ({ startsAt: '13:00' as never, start: instant(start + HOUR) }))
const BEFORE = importFile(
  smallClinic(),
  list(row(), row({ id: 'b', start: '11:00', patient: 'Yarrow, Wanda', work: 'RCT 36' })),
).world

describe('an old export that is brought home', () => {
  it.each(
    FORMATS.flatMap(([name, make]) =>
      [cancelled, moved].map((change): [string, string, typeof make, typeof change] => [
        name,
        change.name,
        make,
        change,
      ]),
    ),
  )('%s: what was %s here since stays so', (_, __, make, change) => {
    const world = change(BEFORE)
    const home = importFile(world, make(BEFORE))
    expect(home.counts).toMatchObject({ older: 2, new: 0, changed: 0, cancelled: 0, problems: 0 })
    expect(effect(home)).toEqual([])
  })

  it.each(FORMATS)('%s, generated days of which every visit was moved here since', (_, make) => {
    fc.assert(
      fc.property(fc.oneof(day, madeDay), (before) => {
        fc.pre(before.appointment.length > 0)
        const home = importFile(moved(before), make(before))
        expect(home.counts).toMatchObject({ older: before.appointment.length, problems: 0 })
        expect(effect(home)).toEqual([])
      }),
      { numRuns: runs(300), seed: 4 },
    )
  })
})

describe('an export in which somebody has changed a row', () => {
  const HOMES: [name: string, edited: string][] = [
    ['CSV', makeCsv(BEFORE).replace('T10:00:00', 'T10:20:00')],
    [
      'FHIR',
      JSON.stringify(makeFhirBundle(BEFORE, { now: MORNING, zone: ZONE }))
        .replace('T10:00:00', 'T10:20:00')
        .replace('T10:30:00', 'T10:50:00'),
    ],
    [
      'iCalendar',
      makeICalendar(BEFORE, { name: 'Quay', detail: true, versionOf, departed: [] })
        .replace('T100000Z', 'T102000Z')
        .replace('T103000Z', 'T105000Z'),
    ],
  ]

  it.each(HOMES)('%s: is taken where nothing was changed here', (_, edited) => {
    const home = importFile(BEFORE, edited)
    expect(home.counts).toMatchObject({ changed: 1, unchanged: 1, problems: 0 })
    expect(home.world.appointment[0]).toMatchObject({ startsAt: '10:20', minutes: 30 })
  })

  it.each(HOMES)('[import/row-open] %s: is asked where the visit was changed here too', (_, edited) => {
    const world = cancelled(BEFORE)
    const home = importFile(world, edited)
    expect(home.world.appointment).toEqual(world.appointment)
    expect(home.counts).toMatchObject({ older: 1, problems: 1 })
    expect(home.world.importProblem[0]?.text).toContain('changed here after the list was exported')
  })

  it('changed alike on both sides it is no news', () => {
    const world = withEach(BEFORE, ({ id }) =>
      id === BEFORE.appointment[0]?.id
        ? { startsAt: '10:20' as never, start: instant(MORNING + 100 * 60_000) }
        : {},
    )
    const home = importFile(world, HOMES[0]?.[1] ?? '')
    expect(home.counts).toMatchObject({ unchanged: 2, problems: 0 })
    expect(effect(home)).toEqual([])
  })

  it.each([
    ['CSV', makeCsv(BEFORE).replace('Weirboard mark', 'Age')],
    [
      'iCalendar',
      makeICalendar(BEFORE, { name: 'x', detail: true, versionOf, departed: [] }).replace(
        /X-WEIRBOARD-MARK.*\r\n/g,
        '',
      ),
    ],
  ])('[import/row-open] %s that has lost its marks is asked, where it would change anything', (_, bare) => {
    expect(effect(importFile(BEFORE, bare))).toEqual([])
    const world = cancelled(BEFORE)
    const home = importFile(world, bare)
    expect(home.world.appointment).toEqual(world.appointment)
    expect(home.counts.problems).toBe(2)
  })

  it('a mark is no figure that a spreadsheet could round', () => {
    const [, ...rows] = makeCsv(BEFORE).trim().split('\r\n')
    expect(rows).toHaveLength(2)
    for (const each of rows) expect(each).toMatch(/,w[0-9a-f]{16}$/)
  })
})

describe('old marks', () => {
  it(`are of what a reader reads, ${said(runs(300))} days a form`, () => {
    fc.assert(
      fc.property(fc.oneof(day, madeDay), (world) => {
        const changed = withEach(world, ({ note }) => ({ note: `${note} changed` }))
        for (const [name, make] of FORMATS.slice(0, 3)) {
          const { counts } = importFile(changed, make(world))
          expect([name, counts.older]).toEqual([name, world.appointment.length])
        }
      }),
      { numRuns: runs(300), seed: 5 },
    )
  })
})

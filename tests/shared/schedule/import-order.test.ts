import { readdirSync, readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { must } from '#shared/base/assert.ts'
import type { World } from '#shared/facts.ts'
import { importFile, smallClinic } from '../../server/imports/small-clinic.ts'
import { runs, said } from '../../support/zone.ts'

/** One message about one appointment or one series, as a source would send it. */
interface Message {
  uid: string
  sequence: number
  hour: number
  cancelled: boolean
  /** What the clock of the sender adds to the time of writing, in minutes: some are wrong. */
  skew: number
}

const two = (value: number): string => String(value).padStart(2, '0')
const stampOf = ({ sequence }: Message): string => `202611${two(10 + sequence)}T080000Z`

const calendarOf = (message: Message, ...more: string[]): string =>
  [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    `METHOD:${message.cancelled ? 'CANCEL' : 'REQUEST'}`,
    'BEGIN:VEVENT',
    `UID:${message.uid}`,
    `DTSTART:20261124T${two(message.hour)}0000Z`,
    'DURATION:PT30M',
    `STATUS:${message.cancelled ? 'CANCELLED' : 'CONFIRMED'}`,
    `SUMMARY:Ashgrove, Aoife ${message.uid.toUpperCase()}: RCT 36`,
    ...more,
    'END:VEVENT',
    'END:VCALENDAR',
  ].join('\r\n')

/** A clock that stands wrong: the sequence says what is newer. */
const skewed = ({ sequence, skew }: Message): string[] => [
  `SEQUENCE:${sequence}`,
  `DTSTAMP:202611${two(10 + (skew % 15))}T08${two(skew % 60)}00Z`,
]

const fhirOf = (message: Message): string =>
  JSON.stringify({
    resourceType: 'Bundle',
    type: 'collection',
    entry: [
      {
        resource: {
          resourceType: 'Patient',
          id: `p${message.uid}`,
          name: [{ family: 'Ashgrove', given: [message.uid] }],
          birthDate: '1990-05-01',
        },
      },
      {
        resource: {
          resourceType: 'Appointment',
          id: message.uid,
          meta: { lastUpdated: `2026-11-${two(10 + message.sequence)}T08:00:00Z` },
          status: message.cancelled ? 'cancelled' : 'booked',
          start: `2026-11-24T${two(message.hour)}:00:00Z`,
          end: `2026-11-24T${two(message.hour)}:30:00Z`,
          participant: [{ actor: { reference: `Patient/p${message.uid}` }, status: 'accepted' }],
        },
      },
    ],
  })

const rowOf = ({ uid, sequence, hour, cancelled }: Message): string =>
  [
    'Id,Date,Start,Minutes,Patient,Born,Procedure,Status,Changed',
    `${uid},2026-11-24,${two(hour)}:00,30,"Ashgrove, ${uid}",1990-05-01,RCT 36,${cancelled ? 'cancelled' : 'booked'},2026-11-${two(10 + sequence)}T08:00:00Z`,
  ].join('\r\n')

/** The clinic's own clock, and a row for each line of work, in an order of its own each time. */
function twoLinesOf(message: Message): string {
  const [head = '', line = ''] = rowOf(message)
    .replace(/T08:00:00Z/, ' 08:00')
    .split('\r\n')
  const lines = [line, line.replace('RCT 36', 'scale')]
  return [head, ...(message.skew % 2 === 0 ? lines : lines.reverse())].join('\r\n')
}

const SOURCES: [name: string, messageOf: (message: Message) => string, share: number][] = [
  ['iCalendar by SEQUENCE, stamps awry', (message) => calendarOf(message, ...skewed(message)), 1500],
  ['iCalendar by DTSTAMP alone', (message) => calendarOf(message, `DTSTAMP:${stampOf(message)}`), 1000],
  [
    'series, moved and cancelled whole',
    (message) =>
      calendarOf(
        { ...message, uid: `series ${message.uid}` },
        ...skewed(message),
        ...(message.cancelled ? [] : ['RRULE:FREQ=WEEKLY;COUNT=3']),
      ),
    1000,
  ],
  ['FHIR by lastUpdated', fhirOf, 750],
  ['CSV by the time of change', rowOf, 500],
  ['CSV by a local time of change, two lines of work', twoLinesOf, 250],
]

/** What a person would see: where each appointment stands, whatever ids it got. */
const seen = (world: World): string[] =>
  world.appointment
    // A cancelled day of a series stands as a row or as the cancellation of the whole: nobody is expected either way.
    .filter(
      ({ external, status }) => external?.externalId.startsWith('series') !== true || status !== 'cancelled',
    )
    .map(
      ({ external, startsAt, day, status }) =>
        `${external?.externalId} ${external?.sequence} ${external?.stamp} ${day} ${startsAt} ${status}`,
    )
    .sort()
const endOf = (files: string[]): string[] =>
  seen(
    files.reduce(
      (world, file) => importFile(world, file, { wholeOf: null, mapping: {}, dateOrder: null }).world,
      smallClinic(),
    ),
  )

const messages = fc
  .array(
    fc.record({
      uid: fc.constantFrom('a', 'b'),
      hour: fc.integer({ min: 8, max: 17 }),
      cancelled: fc.boolean(),
      skew: fc.nat(999),
    }),
    { minLength: 1, maxLength: 6 },
  )
  .map((drafts) => {
    const counts: Record<string, number> = {}
    return drafts.map((draft): Message => {
      const sequence = counts[draft.uid] ?? 0
      counts[draft.uid] = sequence + 1
      return { ...draft, sequence }
    })
  })

/** Counter-examples of before, replayed for ever: by which source, what it said, and in which order it came. */
interface Found {
  source: string
  ordered: Message[]
  arrives: number[]
}
const FOUND_IN = new URL('../../found/', import.meta.url)
const FOUND = readdirSync(FOUND_IN)
  .filter((name) => name.startsWith('schedule-'))
  .map((name): [string, Found] => [name, JSON.parse(readFileSync(new URL(name, FOUND_IN), 'utf8'))])

describe('messages that once ended otherwise', () => {
  it.each(FOUND)('%s', (_, { source, ordered, arrives }) => {
    const [, messageOf] = must(
      SOURCES.find(([name]) => name === source),
      `there is a source “${source}”`,
    )
    const files = ordered.map(messageOf)
    const come = arrives.map((at) => must(files[at], 'one of the messages'))
    expect(endOf(come)).toEqual(endOf(files))
  })
})

describe(`late, doubled and shuffled messages end as the ordered ones do, ${said(runs(5000))} sequences`, () => {
  it.each(SOURCES)('%s', { timeout: 300_000 }, (_, messageOf, most) => {
    fc.assert(
      fc.property(messages, fc.infiniteStream(fc.nat(99)), (ordered, dice) => {
        const doubled = [...ordered, ...ordered.filter(() => (dice.next().value ?? 0) % 3 === 0)]
        const shuffled = doubled
          .map((message) => ({ message, at: dice.next().value ?? 0 }))
          .sort((one, other) => one.at - other.at)
          .map(({ message }) => message)
        expect(endOf(shuffled.map(messageOf))).toEqual(endOf(ordered.map(messageOf)))
      }),
      { numRuns: runs(most), seed: 20261124 },
    )
  })
})

describe('two contents of one version', () => {
  const base = { uid: 'a', sequence: 2, cancelled: false, skew: 0 }
  const [ten, eleven] = [10, 11].map((hour) => ({ ...base, hour }))

  it.each([
    ['with a stamp', (message: Message) => calendarOf(message, 'SEQUENCE:2', 'DTSTAMP:20261110T080000Z')],
    ['without', (message: Message) => calendarOf(message, 'SEQUENCE:2')],
  ])('[import/row-open] are asked where the source counts, %s', (_, messageOf) => {
    const first = importFile(smallClinic(), messageOf(must(ten, 'a message')))
    const { world, counts } = importFile(first.world, messageOf(must(eleven, 'another')))
    expect(counts).toMatchObject({ changed: 0, problems: 1 })
    expect(world.appointment[0]?.startsAt).toBe('10:00')
  })

  it.each([
    ['an event with neither sequence nor stamp', (message: Message) => calendarOf(message)],
    ['a FHIR appointment, whose patient and work have versions of their own', fhirOf],
  ])('the later is taken where the source counts nothing: %s', (_, messageOf) => {
    const first = importFile(smallClinic(), messageOf(must(ten, 'a message')))
    const { world, counts } = importFile(first.world, messageOf(must(eleven, 'another')))
    expect(counts).toMatchObject({ changed: 1, problems: 0 })
    expect(world.appointment[0]?.startsAt).toBe('11:00')
  })
})

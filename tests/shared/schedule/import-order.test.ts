import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { World } from '#shared/facts.ts'
import { importFile, smallClinic } from '../../server/imports/small-clinic.ts'
import { runs, said } from '../../support/zone.ts'

/** One message about one appointment, as a calendar or a FHIR server would send it. */
interface Message {
  uid: string
  sequence: number
  hour: number
  cancelled: boolean
}

const two = (value: number): string => String(value).padStart(2, '0')
const FORMATS: [name: string, make: (message: Message) => string][] = [
  [
    'iCalendar',
    ({ uid, sequence, hour, cancelled }) =>
      [
        'BEGIN:VCALENDAR',
        'VERSION:2.0',
        'METHOD:REQUEST',
        'BEGIN:VEVENT',
        `UID:${uid}`,
        `SEQUENCE:${sequence}`,
        `DTSTAMP:202611${10 + sequence}T080000Z`,
        `DTSTART:20261124T${two(hour)}0000Z`,
        'DURATION:PT30M',
        `STATUS:${cancelled ? 'CANCELLED' : 'CONFIRMED'}`,
        `SUMMARY:Ashgrove, Aoife ${uid.toUpperCase()}: RCT 36`,
        'END:VEVENT',
        'END:VCALENDAR',
      ].join('\r\n'),
  ],
  [
    'FHIR',
    ({ uid, sequence, hour, cancelled }) =>
      JSON.stringify({
        resourceType: 'Appointment',
        id: uid,
        meta: { lastUpdated: `2026-11-${10 + sequence}T08:00:00Z` },
        status: cancelled ? 'cancelled' : 'booked',
        start: `2026-11-24T${two(hour)}:00:00Z`,
        minutesDuration: 30,
        description: 'RCT 36',
        participant: [
          { actor: { reference: `Patient/${uid}`, display: 'Ashgrove, Aoife' }, status: 'accepted' },
        ],
      }),
  ],
]

/** What a person would see: where each appointment stands, whatever ids it got. */
const seen = (world: World): string[] =>
  world.appointment
    .map(
      ({ external, startsAt, status }) =>
        `${external?.externalId} ${external?.sequence} ${external?.stamp} ${startsAt} ${status}`,
    )
    .sort()
const endOf = (messages: Message[], make: (message: Message) => string): string[] =>
  seen(messages.reduce((world, message) => importFile(world, make(message)).world, smallClinic()))

const messages = fc
  .array(
    fc.record({
      uid: fc.constantFrom('a', 'b'),
      hour: fc.integer({ min: 8, max: 17 }),
      cancelled: fc.boolean(),
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

const SEQUENCES = runs(5000)

describe('late, doubled and shuffled messages', () => {
  it.each(FORMATS)(
    `%s: end as the ordered ones do, ${said(SEQUENCES)} sequences`,
    {
      timeout: 300_000,
    },
    (_, make) => {
      fc.assert(
        fc.property(messages, fc.infiniteStream(fc.nat(99)), (ordered, dice) => {
          const doubled = [...ordered, ...ordered.filter(() => (dice.next().value ?? 0) % 3 === 0)]
          const shuffled = doubled
            .map((message) => ({ message, at: dice.next().value ?? 0 }))
            .sort((one, other) => one.at - other.at)
            .map(({ message }) => message)
          expect(endOf(shuffled, make)).toEqual(endOf(ordered, make))
        }),
        { numRuns: SEQUENCES, seed: 20261124 },
      )
    },
  )
})

import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { World } from '#shared/facts.ts'
import { importFile, smallClinic } from '../../server/imports/small-clinic.ts'

/** One message about one appointment, as a calendar would send it. */
interface Message {
  uid: string
  sequence: number
  hour: number
  cancelled: boolean
}

const messageOf = ({ uid, sequence, hour, cancelled }: Message): string =>
  [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'METHOD:REQUEST',
    'BEGIN:VEVENT',
    `UID:${uid}`,
    `SEQUENCE:${sequence}`,
    `DTSTAMP:202611${String(10 + sequence).padStart(2, '0')}T080000Z`,
    `DTSTART:20261124T${String(hour).padStart(2, '0')}0000Z`,
    'DURATION:PT30M',
    `STATUS:${cancelled ? 'CANCELLED' : 'CONFIRMED'}`,
    `SUMMARY:Ashgrove, Aoife ${uid.toUpperCase()}: RCT 36`,
    'END:VEVENT',
    'END:VCALENDAR',
  ].join('\r\n')

/** What a person would see: where each appointment stands, whatever ids it got. */
const seen = (world: World): string[] =>
  world.appointment
    .map(
      ({ external, startsAt, status }) =>
        `${external?.externalId} ${external?.sequence} ${startsAt} ${status}`,
    )
    .sort()
const endOf = (messages: Message[]): string[] =>
  seen(messages.reduce((world, message) => importFile(world, messageOf(message)).world, smallClinic()))

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

describe('late, doubled and shuffled messages', () => {
  it('end as the ordered ones do, 5,000 sequences', { timeout: 300_000 }, () => {
    fc.assert(
      fc.property(messages, fc.infiniteStream(fc.nat(99)), (ordered, dice) => {
        const doubled = [...ordered, ...ordered.filter(() => (dice.next().value ?? 0) % 3 === 0)]
        const shuffled = doubled
          .map((message) => ({ message, at: dice.next().value ?? 0 }))
          .sort((one, other) => one.at - other.at)
          .map(({ message }) => message)
        expect(endOf(shuffled)).toEqual(endOf(ordered))
      }),
      { numRuns: 5000, seed: 20261124 },
    )
  })
})

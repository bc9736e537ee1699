import { describe, expect, test } from 'vitest'
import { readCalendar } from '#server/imports/icalendar-events.ts'
import { readStatement } from '#shared/allergies/statement.ts'
import { must } from '#shared/base/assert.ts'
import { clockTimeOf, instant, minutesBetween, type Zone } from '#shared/base/moment.ts'
import { applyChange } from '#shared/change.ts'
import type { World } from '#shared/facts.ts'
import type { TrayId } from '#shared/ids.ts'
import { localInstant } from '#shared/schedule/local-time.ts'
import type { Notation } from '#shared/teeth/notation-names.ts'
import {
  DESK,
  effect,
  importFile,
  list,
  MORNING,
  OPTIONS,
  row,
  smallClinic,
} from '../server/imports/small-clinic.ts'

/** One row of a list, brought to a clinic that numbers teeth so. */
const bringing = (work: string, notation: Notation) => {
  const { world } = importFile(smallClinic(notation), list(row({ work })), { notation: 'ask' })
  return { world, work: must(world.work[0], 'a line of work') }
}
const candidatesOf = (work: string, notation: Notation) =>
  bringing(work, notation)
    .work.mentions.flatMap(({ candidates }) => candidates)
    .sort()

describe('which tooth a list means', () => {
  test('case 01 the same two digits, two different teeth: neither is taken', () => {
    const { work } = bringing('Root canal, tooth 31', 'ask')
    expect(work.kind).toBe('root-canal')
    expect(work.teeth).toEqual([])
    expect(candidatesOf('Root canal, tooth 31', 'ask')).toEqual(['31', '47'])
    expect(bringing('Root canal, tooth 31', 'iso').work.teeth).toEqual(['31'])
    expect(bringing('Root canal, tooth 31', 'universal').work.teeth).toEqual(['47'])
  })

  test('case 04 a note that mislabels a tooth: three candidates, none chosen', () => {
    const { work } = bringing('14, upper left first premolar', 'ask')
    expect(work.teeth).toEqual([])
    expect(candidatesOf('14, upper left first premolar', 'ask')).toEqual(['14', '24', '26'])
  })

  test('case 05 a row from a list says which tooth may be meant and cannot settle it', () => {
    expect(bringing('UR4', 'ask').work.teeth).toEqual(['14'])
    expect(bringing('ext 5 for ortho', 'universal').work.teeth).toEqual(['14'])
    // Without a numbering a lone 5 names no tooth for certain.
    expect(bringing('ext 5 for ortho', 'ask').work.teeth).toEqual([])
  })

  test('case 06 one letter, two baby teeth: asked; K counts only where the clinic counts by letters', () => {
    expect(bringing('pulpotomy, UR E', 'ask').work.teeth).toEqual([])
    expect(candidatesOf('pulpotomy, UR E', 'ask')).toEqual(['51', '55'])
    expect(bringing('pulpotomy K', 'universal').work).toMatchObject({ kind: 'pulpotomy', teeth: ['75'] })
    expect(bringing('pulpotomy K', 'iso').work.teeth).toEqual([])
  })

  test('case 08 a baby molar is taken as itself, never as the tooth under it', () => {
    expect(bringing('filling 85', 'iso').work.teeth).toEqual(['85'])
    expect(bringing('filling 45', 'iso').work.teeth).toEqual(['45'])
  })

  test('case 12 “last tooth upper left” keeps its words and names no tooth', () => {
    const { work } = bringing('last tooth upper left', 'iso')
    expect(work).toMatchObject({ text: 'last tooth upper left', teeth: [] })
  })

  test('case 73 “broken tooth UR, pain” stays undetermined', () => {
    expect(bringing('broken tooth UR, pain', 'iso').work).toMatchObject({ kind: 'undetermined', teeth: [] })
  })
})

describe('what a list says of allergies', () => {
  const recordFor = (allergies: string) =>
    importFile(smallClinic(), list(row({ allergies }))).world.allergyRecord[0]

  test('case 36 blank is not “no”: nothing is recorded, and “NKDA” leaves latex unasked', () => {
    expect(recordFor('')).toBeUndefined()
    for (const words of ['NKDA', 'no drug allergies'])
      expect(recordFor(words)).toMatchObject({
        state: 'not-asked',
        latex: 'not-asked',
        allergies: [],
        statements: [{ text: words }],
      })
  })

  test.each([
    ['sensitive to gloves', 'possible'],
    ['rubber makes her itch', 'possible'],
    ['lip swelled w/ balloons', 'possible'],
    ["can't wear plasters", 'possible'],
    ['NO latex allergy', 'denies'],
    ['allergic to late fees', 'idiom'],
  ])('case 37 “%s” is kept word for word, reads as %s, and is never set to confirmed', (words, kind) => {
    const record = must(recordFor(words), 'a record')
    expect(record.statements.map(({ text }) => text)).toEqual([words])
    expect(readStatement(words).kind).toBe(kind)
    expect(record).toMatchObject({ latex: 'not-asked', allergies: [] })
  })
})

describe('the clocks', () => {
  const weekly = (...more: string[]) =>
    [
      'BEGIN:VCALENDAR',
      'BEGIN:VEVENT',
      'UID:outreach',
      'DTSTAMP:20261001T080000Z',
      'DTSTART;TZID=Europe/London:20261019T090000',
      'DURATION:PT1H',
      'RRULE:FREQ=WEEKLY;COUNT=3',
      'SUMMARY:Ashgrove, Aoife: check-up',
      ...more,
      'END:VEVENT',
      'END:VCALENDAR',
    ].join('\r\n')
  const startsOf = (file: string) =>
    readCalendar(Buffer.from(file), OPTIONS).events.map(({ start }) =>
      new Date(start).toISOString().slice(0, 16),
    )

  test('case 82 a weekly visit stays at nine by the wall through the clock change, and an exception leaves it out', () => {
    expect(startsOf(weekly())).toEqual(['2026-10-19T08:00', '2026-10-26T09:00', '2026-11-02T09:00'])
    expect(startsOf(weekly('EXDATE;TZID=Europe/London:20261026T090000'))).toEqual([
      '2026-10-19T08:00',
      '2026-11-02T09:00',
    ])
    const { world } = importFile(smallClinic(), weekly())
    expect(world.appointment.map(({ startsAt }) => startsAt)).toEqual(['09:00', '09:00', '09:00'])
  })

  test('case 82 thirty minutes are thirty minutes when the hour comes twice', () => {
    const newYork = 'America/New_York' as Zone
    const started = instant(Date.parse('2026-11-01T01:50:00-04:00'))
    const read = instant(Date.parse('2026-11-01T01:20:00-05:00'))
    expect(clockTimeOf(read, newYork)).toBe('01:20')
    expect(minutesBetween(started, read)).toBe(30)
  })

  test('case 82 02:30 on a day that has none is asked, not guessed', () => {
    expect(localInstant('2027-03-14' as never, '02:30' as never, 'America/New_York' as Zone)).toEqual({
      ok: false,
      reasons: ['gap'],
    })
    const spring = importFile(smallClinic(), list(row({ day: '2027-03-14', start: '02:30' })), {
      zone: 'America/New_York' as Zone,
    })
    expect(spring.world.appointment).toEqual([])
    expect(spring.world.importProblem[0]?.text).toContain('jump over 02:30')
  })
})

describe('cancelled, then booked again', () => {
  const event = (uid: string, hour: number, ...more: string[]) => [
    'BEGIN:VEVENT',
    `UID:${uid}`,
    'DTSTAMP:20261120T080000Z',
    `DTSTART:20261124T${hour}0000Z`,
    'DURATION:PT45M',
    'SUMMARY:Ashgrove, Aoife: RCT 36',
    ...more,
    'END:VEVENT',
  ]
  const feed = (...events: string[][]) => ['BEGIN:VCALENDAR', ...events.flat(), 'END:VCALENDAR'].join('\r\n')
  const other = event('c', 16, 'LOCATION:2').map((line) => line.replace('Ashgrove, Aoife', 'Yarrow, Wanda'))

  const claimed = (): World => {
    const { world } = importFile(smallClinic(), feed(event('a', 10), other))
    const ten = must(
      world.appointment.find(({ startsAt }) => startsAt === '10:00'),
      'the ten o’clock visit',
    )
    const tray: World['tray'][number] = {
      clinicId: ten.clinicId,
      id: 'tray' as TrayId,
      appointmentId: ten.id,
      kits: ['dam-base'],
      planNumber: 1,
      standby: false,
      life: { kind: 'claimed', by: DESK.id, since: MORNING, touched: MORNING },
      done: 0,
      of: 9,
      firstMissing: null,
      contains: [],
    }
    return { ...world, tray: [tray] }
  }

  test('case 84 one visit at 14:00, and the tray claimed for 10:00 comes over with its claim', () => {
    const after = importFile(
      claimed(),
      feed(event('a', 10, 'STATUS:CANCELLED', 'SEQUENCE:1'), event('b', 14), other),
    )
    const hers = after.world.appointment.filter(
      ({ patientId }) => patientId === after.world.appointment[0]?.patientId,
    )
    expect(hers.map(({ startsAt, status }) => [startsAt, status])).toEqual([
      ['10:00', 'cancelled'],
      ['14:00', 'booked'],
    ])
    expect(after.world.tray).toMatchObject([
      { appointmentId: hers[1]?.id, life: { kind: 'claimed', by: DESK.id } },
    ])
    expect(after.findings.map(({ rule }) => rule)).toContain('import/tray-carried')
  })

  test('case 84 a feed that simply lacks it: asked, neither kept in silence nor dropped', () => {
    const after = importFile(claimed(), feed(event('b', 14), other))
    expect(after.findings.map(({ rule }) => rule)).toContain('appointment/vanished')
    expect(after.world.appointment.find(({ startsAt }) => startsAt === '10:00')).toMatchObject({
      status: 'booked',
      vanished: { at: MORNING },
    })
  })

  test('case 84 an older SEQUENCE that arrives late is counted and ignored', () => {
    const cancelled = importFile(
      claimed(),
      feed(event('a', 10, 'STATUS:CANCELLED', 'SEQUENCE:1'), other),
    ).world
    const late = importFile(cancelled, feed(event('a', 10), other))
    expect(late.counts).toMatchObject({ older: 1, changed: 0, new: 0 })
    expect(effect(late)).toEqual([])
    expect(applyChange(cancelled, late.change).appointment).toEqual(cancelled.appointment)
  })

  test('case 84 cancelled before it was ever seen, it stays cancelled when the booking comes after', () => {
    const tombstone = importFile(smallClinic(), feed(event('a', 10, 'STATUS:CANCELLED', 'SEQUENCE:1'))).world
    expect(tombstone.appointment).toMatchObject([{ status: 'cancelled' }])
    expect(importFile(tombstone, feed(event('a', 10))).world.appointment).toMatchObject([
      { status: 'cancelled' },
    ])
  })
})

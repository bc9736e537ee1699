import { describe, expect, it } from 'vitest'
import type { World } from '#shared/facts.ts'
import { importFile, smallClinic } from '../../server/imports/small-clinic.ts'

const WINDOW = { from: '2026-11-24', to: '2027-01-23' }
interface Part {
  sequence?: number
  start?: string
  lines?: string[]
}
const part = ({ sequence = 0, start = '20261125T090000Z', lines = [] }: Part): string[] => [
  'BEGIN:VEVENT',
  'UID:s',
  `SEQUENCE:${sequence}`,
  'DTSTAMP:20261101T080000Z',
  `DTSTART:${start}`,
  'DURATION:PT30M',
  'SUMMARY:Ashgrove\\, Aoife: RCT 36',
  'DESCRIPTION:Born: 1990-05-01',
  ...lines,
  'END:VEVENT',
]
const file = (method: string, ...parts: Part[]): string =>
  ['BEGIN:VCALENDAR', `METHOD:${method}`, ...parts.flatMap(part), 'END:VCALENDAR'].join('\r\n')
const bring = (world: World, method: string, ...parts: Part[]) =>
  importFile(world, file(method, ...parts), { window: WINDOW })

const THREE = ['RRULE:FREQ=WEEKLY;COUNT=3']
const booked = () => bring(smallClinic(), 'REQUEST', { lines: THREE }).world
const seen = (world: World): string[] =>
  world.appointment
    .map(({ day, startsAt, status, vanished }) => `${day} ${startsAt} ${status}${vanished ? ' ?' : ''}`)
    .sort()
const idsOf = (world: World): string[] =>
  [...world.appointment].sort((one, other) => one.start - other.start).map(({ id }) => id)

const NINE = ['2026-11-25 09:00 booked', '2026-12-02 09:00 booked', '2026-12-09 09:00 booked']
const TEN = NINE.map((line) => line.replace('09:00', '10:00'))

describe('a series that its master moves keeps its visits, and so their trays', () => {
  it.each<[what: string, moved: Part, right: string[]]>([
    ['to another time of the same days', { start: '20261125T100000Z', lines: THREE }, TEN],
    [
      'to another weekday',
      { start: '20261126T090000Z', lines: THREE },
      ['2026-11-26 09:00 booked', '2026-12-03 09:00 booked', '2026-12-10 09:00 booked'],
    ],
  ])('%s', (_, moved, right) => {
    const before = booked()
    const { world, counts } = bring(before, 'REQUEST', { sequence: 1, ...moved })
    expect(seen(world)).toEqual(right)
    expect(idsOf(world)).toEqual(idsOf(before))
    expect(counts).toMatchObject({ new: 0, changed: 3, problems: 0 })
  })

  it('a single visit that becomes a series stays the first of it', () => {
    const before = bring(smallClinic(), 'REQUEST', {}).world
    const { world } = bring(before, 'REQUEST', { sequence: 1, lines: THREE })
    expect(seen(world)).toEqual(NINE)
    expect(idsOf(world)[0]).toBe(idsOf(before)[0])
  })

  it('where it is not plain which became which it is asked once, and nothing is booked twice', () => {
    const before = booked()
    const { world, counts } = bring(before, 'REQUEST', {
      sequence: 1,
      start: '20261126T090000Z',
      lines: ['RRULE:FREQ=WEEKLY;COUNT=2'],
    })
    expect(seen(world)).toEqual(NINE)
    expect(counts).toMatchObject({ new: 0, changed: 0, problems: 1 })
    expect(world.importProblem[0]?.text).toContain('2026-11-26 09:00')
  })

  it('a day that the series no longer takes is asked, never dropped', () => {
    const { world } = bring(booked(), 'REQUEST', {
      sequence: 1,
      lines: [...THREE, 'EXDATE:20261202T090000Z'],
    })
    expect(seen(world)).toEqual([NINE[0], `${NINE[1]} ?`, NINE[2]])
  })

  it('days that have only come into the period read are new, and no other moves', () => {
    const before = booked()
    const { world, counts } = bring(before, 'REQUEST', { lines: ['RRULE:FREQ=WEEKLY;COUNT=4'] })
    expect(seen(world)).toEqual([...NINE, '2026-12-16 09:00 booked'])
    expect(counts).toMatchObject({ new: 1, unchanged: 3 })
  })

  it('a late message of before the move changes nothing', () => {
    const moved = bring(booked(), 'REQUEST', { sequence: 1, start: '20261125T100000Z', lines: THREE }).world
    const { world, counts } = bring(moved, 'REQUEST', { lines: ['RRULE:FREQ=WEEKLY;COUNT=5'] })
    expect(seen(world)).toEqual(TEN)
    expect(counts).toMatchObject({ new: 0, changed: 0 })
  })
})

describe('a series cancelled as a whole (RFC 5546 section 3.2.5, READ)', () => {
  const CANCELLED = NINE.map((line) => line.replace('booked', 'cancelled'))
  const cancel: Part = { sequence: 1, lines: ['STATUS:CANCELLED'] }

  it('cancels every visit to come, and books none beside them', () => {
    const { world, counts } = bring(booked(), 'CANCEL', cancel)
    expect(seen(world)).toEqual(CANCELLED)
    expect(counts).toMatchObject({ cancelled: 3, new: 0, problems: 0 })
  })

  it('twice says nothing new; an older message after it books nothing; a newer one books again', () => {
    const gone = bring(booked(), 'CANCEL', cancel).world
    expect(bring(gone, 'CANCEL', cancel).counts).toMatchObject({ cancelled: 0, new: 0, changed: 0 })
    const late = bring(gone, 'REQUEST', { lines: ['RRULE:FREQ=WEEKLY;COUNT=5'] }).world
    expect(seen(late)).toEqual(CANCELLED)
    expect(seen(bring(late, 'REQUEST', { sequence: 2, lines: THREE }).world)).toEqual(NINE)
  })

  it('booked again at another time and moved back it is there once (found by generated messages)', () => {
    const gone = bring(booked(), 'CANCEL', cancel).world
    const again = bring(gone, 'REQUEST', { sequence: 2, start: '20261125T100000Z', lines: THREE }).world
    const { world } = bring(again, 'REQUEST', { sequence: 3, lines: THREE })
    expect(seen(world).filter((line) => line.includes('booked'))).toEqual(NINE)
  })

  it('before the series itself came: nothing of it is booked', () => {
    const early = bring(smallClinic(), 'CANCEL', cancel).world
    const { world } = bring(early, 'REQUEST', { lines: THREE })
    expect(seen(world).filter((line) => line.includes('booked'))).toEqual([])
  })

  it('one day cancelled is that day alone', () => {
    const one: Part = { sequence: 1, start: '20261202T090000Z', lines: ['RECURRENCE-ID:20261202T090000Z'] }
    expect(seen(bring(booked(), 'CANCEL', one).world)).toEqual([NINE[0], CANCELLED[1], NINE[2]])
  })
})

describe('answers (RFC 5546 sections 3.2.3 and 3.2.7, READ)', () => {
  it.each([
    ['COUNTER', '20261125T150000Z'],
    ['REPLY', '20261125T090000Z'],
  ])('%s moves nothing, brings nothing back and is told', (method, start) => {
    const gone = bring(booked(), 'CANCEL', { sequence: 1 }).world
    const { world, counts } = bring(gone, method, { sequence: 2, start })
    expect(seen(world)).toEqual(seen(gone))
    expect(counts).toMatchObject({ new: 0, changed: 0, problems: 1 })
  })
})

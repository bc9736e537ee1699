import { describe, expect, it } from 'vitest'
import { type Calendar, readCalendar } from '#server/imports/icalendar-events.ts'
import type { Zone } from '#shared/base/moment.ts'
import { OPTIONS } from './small-clinic.ts'

const WINDOW = { from: '2026-10-01', to: '2026-12-31' }
const event = (...lines: string[]): string[] => ['BEGIN:VEVENT', ...lines, 'END:VEVENT']
const read = (...lines: string[]): Calendar =>
  readCalendar(Buffer.from(['BEGIN:VCALENDAR', ...lines, 'END:VCALENDAR'].join('\r\n')), {
    ...OPTIONS,
    zone: 'America/New_York' as Zone,
    window: WINDOW,
  })
const minute = (at: number): string => `${new Date(at).toISOString().slice(0, 16)}Z`
const startsOf = ({ events }: Calendar): string[] => events.map(({ start }) => minute(start)).sort()
const toldOf = ({ problems }: Calendar) => problems.map(({ line, field }) => [line, field])

const shift = (name: string, from: string, to: string, ...lines: string[]): string[] => [
  `BEGIN:${name}`,
  `TZOFFSETFROM:${from}`,
  `TZOFFSETTO:${to}`,
  ...lines,
  `END:${name}`,
]
const zone = (tzid: string, ...parts: string[][]): string[] => [
  'BEGIN:VTIMEZONE',
  `TZID:${tzid}`,
  ...parts.flat(),
  'END:VTIMEZONE',
]

/** The two rules of the eastern United States: to 2006 and from 2007, as in the example of RFC 5545 section 3.6.5 (READ). */
const EASTERN = [
  shift(
    'DAYLIGHT',
    '-0500',
    '-0400',
    'DTSTART:19870405T020000',
    'RRULE:FREQ=YEARLY;BYDAY=1SU;BYMONTH=4;UNTIL=20060402T070000Z',
  ),
  shift(
    'STANDARD',
    '-0400',
    '-0500',
    'DTSTART:19671029T020000',
    'RRULE:FREQ=YEARLY;BYDAY=-1SU;BYMONTH=10;UNTIL=20061029T060000Z',
  ),
  shift('DAYLIGHT', '-0500', '-0400', 'DTSTART:20070311T020000', 'RRULE:FREQ=YEARLY;BYDAY=2SU;BYMONTH=3'),
  shift('STANDARD', '-0400', '-0500', 'DTSTART:20071104T020000', 'RRULE:FREQ=YEARLY;BYDAY=1SU;BYMONTH=11'),
]

describe('zones that a file defines (RFC 5545 section 3.6.5, READ)', () => {
  const visit = (tzid: string, at: string) => event('UID:z', `DTSTART;TZID=${tzid}:${at}`, 'DURATION:PT30M')
  it.each([
    ['a rule that ended in 2006 holds no more', '20261028T090000', '2026-10-28T13:00Z'],
    ['the rule of now', '20261104T090000', '2026-11-04T14:00Z'],
    ['the old rule in its own time: 30 October 2005', '20051030T090000', '2005-10-30T14:00Z'],
    ['and 2 November 2005, which the new rule would take for summer', '20051102T090000', '2005-11-02T14:00Z'],
    ['25 October 2006, summer by the old rule', '20061025T090000', '2006-10-25T13:00Z'],
    ['20 March 2006, winter by the old rule', '20060320T090000', '2006-03-20T14:00Z'],
  ])('UNTIL: %s', (_, at, right) => {
    expect(startsOf(read(...zone('Ours', ...EASTERN), ...visit('Ours', at)))).toEqual([right])
  })

  it.each([
    ['20261020T090000', '2026-10-20T08:00Z'],
    ['20261028T090000', '2026-10-28T09:00Z'],
    ['20260201T090000', '2026-02-01T09:00Z'],
  ])('RDATE: an onset given by its date holds from then on: %s', (at, right) => {
    const own = zone(
      'Ours',
      shift('STANDARD', '+0100', '+0000', 'DTSTART:20251026T020000', 'RDATE:20261025T020000'),
      shift('DAYLIGHT', '+0000', '+0100', 'DTSTART:20250330T010000', 'RDATE:20260329T010000,20270328T010000'),
    )
    expect(startsOf(read(...own, ...visit('Ours', at)))).toEqual([right])
  })

  it('a name that is no place means what the file says: EST with summer time', () => {
    const own = zone('EST', ...EASTERN)
    expect(startsOf(read(...own, ...visit('EST', '20261028T090000')))).toEqual(['2026-10-28T13:00Z'])
    expect(startsOf(read(...visit('EST', '20261028T090000')))).toEqual(['2026-10-28T14:00Z'])
  })

  it('a definition that cannot be read is no zone', () => {
    const own = zone(
      'Ours',
      shift('STANDARD', '-0500', '-0500', 'DTSTART:20070101T000000', 'RRULE:FREQ=OFTEN'),
    )
    const calendar = read(...own, ...visit('Ours', '20261028T090000'))
    expect([calendar.events, calendar.problems.map(({ field }) => field)]).toEqual([[], ['DTSTART']])
  })
})

const START = 'DTSTART;TZID=America/New_York:20261102T090000'
const series = (...lines: string[]) =>
  event('UID:s', 'DTSTAMP:20261001T000000Z', START, 'DURATION:PT30M', ...lines)
const change = (recurrence: string, ...lines: string[]) =>
  event(
    'UID:s',
    'DTSTAMP:20261002T000000Z',
    'SEQUENCE:1',
    recurrence,
    'DTSTART:20261111T200000Z',
    'DURATION:PT30M',
    ...lines,
  )
const THREE = 'RRULE:FREQ=WEEKLY;COUNT=3'

describe('changes of one day (RFC 5545 section 3.8.4.4, READ)', () => {
  it.each([
    ['in a zone nobody knows', 'RECURRENCE-ID;TZID=Nowhere:20261109T090000'],
    ['as a date, in a series with times', 'RECURRENCE-ID;VALUE=DATE:20261109'],
  ])('%s: told, and the other visits stand', (_, recurrence) => {
    const calendar = read(...series(THREE), ...change(recurrence))
    expect(startsOf(calendar)).toEqual(['2026-11-02T14:00Z', '2026-11-16T14:00Z'])
    expect(toldOf(calendar)).toEqual([[9, 'RECURRENCE-ID']])
  })

  it('that cannot be read at all may be about any day, so none is taken', () => {
    const calendar = read(...series(THREE), ...change('RECURRENCE-ID:9 November'))
    expect([startsOf(calendar), toldOf(calendar)]).toEqual([[], [[9, 'RECURRENCE-ID']]])
  })

  it('at a time the series never took, on a day it takes: neither is taken', () => {
    const calendar = read(...series(THREE), ...change('RECURRENCE-ID:20261109T150000Z'))
    expect(startsOf(calendar)).toEqual(['2026-11-02T14:00Z', '2026-11-16T14:00Z'])
    expect(toldOf(calendar)).toEqual([[9, 'RECURRENCE-ID']])
  })

  it('from one day on (section 3.2.13): told; what came before stands', () => {
    const following = 'RECURRENCE-ID;RANGE=THISANDFUTURE:20261109T140000Z'
    const whole = read(...series(THREE), ...change(following))
    expect([startsOf(whole), toldOf(whole)]).toEqual([['2026-11-02T14:00Z'], [[9, 'RECURRENCE-ID']]])
    const alone = read(...change(following))
    expect([startsOf(alone), toldOf(alone)]).toEqual([[], [[2, 'RECURRENCE-ID']]])
  })
})

describe('what is no booking (RFC 5546 section 1.4, READ)', () => {
  it.each(['REPLY', 'COUNTER', 'DECLINECOUNTER', 'REFRESH', 'ADD', 'SOMETHING'])('%s is told', (method) => {
    const calendar = read(`METHOD:${method}`, ...series())
    expect([startsOf(calendar), toldOf(calendar)]).toEqual([[], [[3, 'METHOD']]])
  })
})

describe('the days of a series (RFC 5545 sections 3.8.5 and 3.3.10, READ)', () => {
  it.each<[what: string, lines: string[], field: string]>([
    ['EXDATE in a zone nobody knows', [THREE, 'EXDATE;TZID=Nowhere:20261109T090000'], 'EXDATE'],
    ['EXDATE that is no date', [THREE, 'EXDATE:2026-11-09'], 'EXDATE'],
    ['RDATE in a zone nobody knows', [THREE, 'RDATE;TZID=Nowhere:20261210T090000'], 'RDATE'],
    ['RDATE without a time', ['RDATE;VALUE=DATE:20261210'], 'RDATE'],
    ['EXRULE', [THREE, 'EXRULE:FREQ=WEEKLY;COUNT=1'], 'EXRULE'],
    ['a second rule', [THREE, 'RRULE:FREQ=DAILY;COUNT=2'], 'RRULE'],
    ['a start outside its rule', ['RRULE:FREQ=WEEKLY;BYDAY=TU;COUNT=3'], 'RRULE'],
    ['COUNT=abc', ['RRULE:FREQ=WEEKLY;COUNT=abc'], 'RRULE'],
    ['COUNT=-1', ['RRULE:FREQ=WEEKLY;COUNT=-1'], 'RRULE'],
    ['COUNT=0', ['RRULE:FREQ=WEEKLY;COUNT=0'], 'RRULE'],
    ['INTERVAL=0', ['RRULE:FREQ=WEEKLY;INTERVAL=0'], 'RRULE'],
    ['COUNT and UNTIL', ['RRULE:FREQ=WEEKLY;COUNT=2;UNTIL=20261201T000000Z'], 'RRULE'],
    ['UNTIL that is no time', ['RRULE:FREQ=WEEKLY;UNTIL=soon'], 'RRULE'],
    ['a part twice', ['RRULE:FREQ=WEEKLY;COUNT=2;COUNT=3'], 'RRULE'],
    ['a part nobody knows', ['RRULE:FREQ=WEEKLY;SKIP=FORWARD'], 'RRULE'],
    ['BYMONTHDAY=32', ['RRULE:FREQ=MONTHLY;BYMONTHDAY=32'], 'RRULE'],
    ['BYDAY=XX', ['RRULE:FREQ=WEEKLY;BYDAY=XX'], 'RRULE'],
    ['no FREQ', ['RRULE:COUNT=3'], 'RRULE'],
    ['weeks without a weekday', ['RRULE:FREQ=YEARLY;BYWEEKNO=45'], 'RRULE'],
  ])('%s is told with its line, and nothing is booked on a guess', (_, lines, field) => {
    const calendar = read(...series(...lines))
    expect(startsOf(calendar)).toEqual([])
    expect(calendar.problems).toMatchObject([{ field, externalId: 's' }])
    const at = 7 + lines.findLastIndex((line) => line.startsWith(field))
    expect([2, at]).toContain(calendar.problems[0]?.line)
  })

  it('EXDATE leaves out what RDATE adds (section 3.8.5.1)', () => {
    const calendar = read(...series('RDATE:20261109T140000Z,20261116T140000Z', 'EXDATE:20261109T140000Z'))
    expect(startsOf(calendar)).toEqual(['2026-11-02T14:00Z', '2026-11-16T14:00Z'])
  })

  it('EXDATE as a date leaves out an added day where the series is', () => {
    const calendar = read(...series('RDATE:20261110T020000Z', 'EXDATE;VALUE=DATE:20261109'))
    expect(startsOf(calendar)).toEqual(['2026-11-02T14:00Z'])
  })

  it('RDATE as a period has its own length (section 3.8.5.2)', () => {
    const periods = 'RDATE;VALUE=PERIOD:20261109T140000Z/PT2H,20261116T140000Z/20261116T153000Z'
    const { events } = read(...series(periods))
    expect(events.map(({ start, end }) => (end - start) / 60_000)).toEqual([30, 120, 90])
  })
})

describe('rules without bounds', () => {
  const all = (length: number) => Array.from({ length }, (_, each) => each).join(',')
  const timed = (...lines: string[]) => {
    const began = performance.now()
    const calendar = read(...lines)
    return { calendar, took: performance.now() - began }
  }
  it.each([
    `FREQ=DAILY;BYHOUR=${all(24)};BYMINUTE=${all(60)};BYSECOND=0,1,2,3`,
    `FREQ=DAILY;BYHOUR=${all(24)};BYMINUTE=${all(60)};BYSECOND=${all(60)}`,
    'FREQ=SECONDLY',
    'FREQ=MINUTELY;BYHOUR=9',
    'FREQ=HOURLY;INTERVAL=24',
  ])('%s is refused unexpanded', (rule) => {
    const { calendar, took } = timed(...series(`RRULE:${rule}`))
    expect(calendar.events).toEqual([])
    expect(calendar.problems).toMatchObject([{ field: 'RRULE' }])
    expect(took).toBeLessThan(200)
  })

  it('ten series of many times a day share one limit', () => {
    const many = Array.from({ length: 10 }, (_, index) =>
      event(
        `UID:${index}`,
        'DTSTART:20261001T000000Z',
        'DURATION:PT5M',
        `RRULE:FREQ=DAILY;BYHOUR=${all(20)}`,
      ),
    )
    const { calendar, took } = timed(...many.flat())
    expect(calendar.events.length).toBeLessThanOrEqual(5000)
    expect(calendar.problems.length).toBeGreaterThan(0)
    expect(took).toBeLessThan(2000)
  })

  it('what never comes, or began long ago, ends soon', () => {
    const old = Array.from({ length: 40 }, (_, index) =>
      event(`UID:${index}`, 'DTSTART:00010101T090000Z', 'DURATION:PT5M', 'RRULE:FREQ=DAILY;COUNT=99999'),
    )
    expect(timed(...old.flat()).took).toBeLessThan(2000)
    const never = event(
      'UID:n',
      'DTSTART:20260228T090000Z',
      'DURATION:PT5M',
      'RRULE:FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=28,31;BYDAY=SA;BYSETPOS=1',
    )
    expect(timed(...never).took).toBeLessThan(200)
  })
})

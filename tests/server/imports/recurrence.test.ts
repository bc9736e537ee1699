import fc from 'fast-check'
import { RRule } from 'rrule'
import { RRuleTemporal } from 'rrule-temporal'
import { Temporal } from 'temporal-polyfill'
import { describe, expect, it } from 'vitest'
import { readCalendar } from '#server/imports/icalendar-events.ts'
import { readNow } from '#server/imports/read-upload.ts'
import type { Zone } from '#shared/base/moment.ts'
import { OPTIONS } from './small-clinic.ts'

const startsOf = (
  start: string,
  rule: string,
  more: string[] = [],
  window = { from: '2026-01-01', to: '2028-12-31' },
): string[] => {
  const file = [
    'BEGIN:VCALENDAR',
    'BEGIN:VEVENT',
    'UID:x',
    'DTSTAMP:20260101T000000Z',
    `DTSTART${start}`,
    'DURATION:PT30M',
    `RRULE:${rule}`,
    ...more,
    'END:VEVENT',
    'END:VCALENDAR',
  ].join('\r\n')
  const calendar = readCalendar(Buffer.from(file), { ...OPTIONS, zone: 'UTC' as Zone, window })
  expect(calendar.problems).toEqual([])
  return calendar.events.map(({ start: at }) => new Date(at).toISOString()).sort()
}

/** Rules that readers are known to get wrong; rrule 2.8.1 and rrule-temporal 2.2.8 agree on all of them (READ, run). */
const RULES: [what: string, start: string, rule: string][] = [
  ['the 31st', '20260131T090000', 'FREQ=MONTHLY;COUNT=6'],
  ['29 February', '20240229T090000', 'FREQ=YEARLY;COUNT=3'],
  ['the last weekday of a month', '20260130T090000', 'FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-1;COUNT=6'],
  ['weeks from Monday', '20260804T090000', 'FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=MO'],
  ['weeks from Sunday', '20260804T090000', 'FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=SU'],
  ['the 30th, with February', '20260130T090000', 'FREQ=MONTHLY;BYMONTHDAY=30;COUNT=5'],
  ['until, inclusive', '20260803T090000', 'FREQ=DAILY;UNTIL=20260806T090000Z'],
  ['the second Tuesday', '20260113T090000', 'FREQ=MONTHLY;BYDAY=2TU;COUNT=8'],
  ['every day of a fortnight', '20260301T090000', 'FREQ=DAILY;INTERVAL=3;COUNT=10'],
]

describe('series against rrule and rrule-temporal', () => {
  it.each(RULES)('%s', (_, start, rule) => {
    const from = new Date(
      Date.UTC(Number(start.slice(0, 4)), Number(start.slice(4, 6)) - 1, Number(start.slice(6, 8)), 9),
    )
    const window = { from: '2024-01-01', to: '2040-12-31' }
    const first = new RRule({ ...RRule.parseString(rule), dtstart: from }).all().map((at) => at.toISOString())
    const second = new RRuleTemporal({
      rruleString: rule,
      dtstart: Temporal.Instant.fromEpochMilliseconds(from.getTime()).toZonedDateTimeISO('UTC'),
    })
      .all()
      .map((at) => new Date(at.epochMilliseconds).toISOString())
    expect(first).toEqual(second)
    expect(startsOf(`:${start}Z`, rule, [], window)).toEqual(first)
  })

  it.each(['America/New_York', 'Europe/Berlin', 'Australia/Lord_Howe', 'Asia/Tokyo'])(
    'daily over a year in %s: the wall clock stays, by Temporal',
    (zone) => {
      const starts = startsOf(`;TZID=${zone}:20260101T093000`, 'FREQ=DAILY;COUNT=400')
      const right = Array.from({ length: 400 }, (_, days) =>
        new Date(
          Temporal.PlainDateTime.from('2026-01-01T09:30').add({ days }).toZonedDateTime(zone)
            .epochMilliseconds,
        ).toISOString(),
      )
      expect(starts).toEqual(right)
    },
  )
})

/** What rrule and rrule-temporal make of a rule from a start in UTC, within two days, both with them; at most a thousand. */
const byRrule = (rule: string, from: Date, to: Date): string[] =>
  new RRule({ ...RRule.parseString(rule), dtstart: from })
    .between(from, to, true, (_, made) => made < 1000)
    .map((at) => at.toISOString())
const byRruleTemporal = (rule: string, from: Date, to: Date): string[] =>
  new RRuleTemporal({
    rruleString: rule,
    dtstart: Temporal.Instant.fromEpochMilliseconds(from.getTime()).toZonedDateTimeISO('UTC'),
  })
    .between(from, to, true)
    .map((at) => new Date(at.epochMilliseconds).toISOString())

const some = <T>(values: fc.Arbitrary<T>, most = 3): fc.Arbitrary<T[]> =>
  fc.uniqueArray(values, { minLength: 1, maxLength: most })
const eitherEnd = (most: number): fc.Arbitrary<number> =>
  fc.integer({ min: -most, max: most }).filter((each) => each !== 0)
const weekday = fc.constantFrom('MO', 'TU', 'WE', 'TH', 'FR', 'SA', 'SU')
const nthWeekday = fc.tuple(eitherEnd(5), weekday).map(([nth, name]) => `${nth}${name}`)
const listed = (name: string, values: fc.Arbitrary<number | string>, most = 3): fc.Arbitrary<string> =>
  some(values, most).map((each) => `${name}=${each.join(',')}`)
const months = listed('BYMONTH', fc.integer({ min: 1, max: 12 }))
const monthDays = listed('BYMONTHDAY', eitherEnd(31))
const weekdays = listed('BYDAY', weekday, 5)
const maybe = (part: fc.Arbitrary<string>): fc.Arbitrary<string> => fc.oneof(fc.constant(''), part)

/** The parts that may stand beside each frequency (the table of RFC 5545 section 3.3.10, READ). */
const BESIDE: Record<string, fc.Arbitrary<string[]>> = {
  DAILY: fc.tuple(maybe(months), maybe(monthDays), maybe(weekdays)),
  WEEKLY: fc.tuple(maybe(months), maybe(weekdays)),
  MONTHLY: fc.tuple(
    maybe(months),
    fc.oneof(monthDays, weekdays, listed('BYDAY', nthWeekday), fc.constant('')),
  ),
  YEARLY: fc.oneof(
    fc.tuple(maybe(months), fc.oneof(monthDays, weekdays, listed('BYDAY', nthWeekday), fc.constant(''))),
    fc.tuple(listed('BYYEARDAY', eitherEnd(366))),
    fc.tuple(listed('BYWEEKNO', eitherEnd(53)), weekdays),
    fc.tuple(
      listed(
        'BYDAY',
        fc.tuple(eitherEnd(53), weekday).map(([nth, name]) => `${nth}${name}`),
      ),
    ),
  ),
}
const rules: fc.Arbitrary<string> = fc.constantFrom(...Object.keys(BESIDE)).chain((frequency) =>
  fc
    .record({
      interval: fc.integer({ min: 1, max: 5 }),
      beside: BESIDE[frequency] ?? fc.constant<string[]>([]),
      hours: maybe(listed('BYHOUR', fc.integer({ min: 0, max: 23 }))),
      minutes: maybe(listed('BYMINUTE', fc.integer({ min: 0, max: 59 }), 2)),
      places: maybe(listed('BYSETPOS', eitherEnd(4), 2)),
      weekStart: maybe(fc.constantFrom('WKST=SU', 'WKST=MO', 'WKST=WE')),
      count: maybe(fc.integer({ min: 1, max: 60 }).map((count) => `COUNT=${count}`)),
    })
    .map(({ interval, beside, hours, minutes, places, weekStart, count }) => {
      const chosen = [...beside, hours, minutes].some((part) => part !== '')
      const parts = [...beside, hours, minutes, chosen ? places : '', weekStart, count]
      return [`FREQ=${frequency}`, `INTERVAL=${interval}`, ...parts.filter((part) => part !== '')].join(';')
    }),
)
interface Generated {
  rule: string
  /** An ISO date and time in UTC from which the first start is looked for. */
  from: string
}
const generated: fc.Arbitrary<Generated> = fc.record({
  rule: rules,
  from: fc
    .integer({ min: Date.UTC(2019, 0, 1) / 60_000, max: Date.UTC(2027, 11, 31) / 60_000 })
    .map((minute) => new Date(minute * 60_000).toISOString()),
})

/** Null where the rule has no start, or the two oracles differ: then neither says what is right. */
function judgeGenerated({ rule, from }: Generated): { ours: string[]; right: string[] } | null {
  const begin = new Date(from)
  const end = new Date(begin.getTime() + 4 * 366 * 86_400_000)
  // DTSTART must be of its own rule, so the first that both find from some time on is taken for it.
  const open = rule.replace(/;COUNT=\d+/, '')
  const start = byRrule(open, begin, end)[0]
  if (start === undefined) return null
  const first = new Date(start)
  const to = new Date(first.getTime() + (rule.startsWith('FREQ=YEARLY') ? 6 : 1) * 366 * 86_400_000)
  const right = byRrule(rule, first, to)
  const other = byRruleTemporal(rule, first, to)
  if (right[0] !== start || right.length >= 1000 || right.join() !== other.join()) return null
  const dtstart = `:${start.slice(0, 19).replace(/[-:]/g, '')}Z`
  const window = { from: '2019-01-01', to: to.toISOString().slice(0, 10) }
  return { ours: startsOf(dtstart, rule, [], window).filter((at) => at <= to.toISOString()), right }
}

const share = Number(process.env.WEIRBOARD_SHARE ?? 1)
const RULES_GENERATED = Math.max(60, Math.round(200 * share))

describe('generated rules', () => {
  it(`${RULES_GENERATED}: as rrule and rrule-temporal have them, where the two agree`, {
    timeout: 240_000,
  }, () => {
    let judged = 0
    fc.assert(
      fc.property(generated, (each) => {
        const answer = judgeGenerated(each)
        if (answer === null) return
        judged += 1
        expect(answer.ours).toEqual(answer.right)
      }),
      { numRuns: RULES_GENERATED, seed: 20261124 },
    )
    expect(judged).toBeGreaterThan(RULES_GENERATED / 3)
  })
})

/** Cases of public issue threads (READ), each with its expected result. */
describe('calendars from the wild', () => {
  it('a UTC UNTIL equal to the last start keeps it (rrule #440, node-ical #13)', () => {
    expect(
      startsOf(';TZID=America/New_York:20261026T200000', 'FREQ=DAILY;UNTIL=20261029T000000Z'),
    ).toHaveLength(3)
  })
  it('a date UNTIL is the end of that local day', () => {
    expect(startsOf(';TZID=America/New_York:20261026T200000', 'FREQ=DAILY;UNTIL=20261028')).toHaveLength(3)
  })
  it('EXDATE as a date leaves the day out; as a time, the start; in UTC, the instant (node-ical #456)', () => {
    const start = ';TZID=Europe/Berlin:20261124T003000'
    const full = startsOf(start, 'FREQ=DAILY;COUNT=3')
    expect(startsOf(start, 'FREQ=DAILY;COUNT=3', ['EXDATE;VALUE=DATE:20261125'])).toEqual([full[0], full[2]])
    expect(startsOf(start, 'FREQ=DAILY;COUNT=3', ['EXDATE;TZID=Europe/Berlin:20261125T003000'])).toEqual([
      full[0],
      full[2],
    ])
    expect(startsOf(start, 'FREQ=DAILY;COUNT=3', ['EXDATE:20261124T233000Z'])).toEqual([full[0], full[2]])
  })
  it.each(['Europe/Berlin', 'Pacific/Auckland'])(
    'an override at midnight in %s takes its own day (node-ical #460)',
    (zone) => {
      const file = [
        'BEGIN:VCALENDAR',
        'BEGIN:VEVENT',
        'UID:m',
        `DTSTART;TZID=${zone}:20261124T000000`,
        'DURATION:PT30M',
        'RRULE:FREQ=DAILY;COUNT=3',
        'END:VEVENT',
        'BEGIN:VEVENT',
        'UID:m',
        `RECURRENCE-ID;TZID=${zone}:20261125T000000`,
        `DTSTART;TZID=${zone}:20261125T150000`,
        'DURATION:PT30M',
        'END:VEVENT',
        'END:VCALENDAR',
      ].join('\n')
      const { events } = readCalendar(Buffer.from(file), { ...OPTIONS, zone: zone as Zone })
      expect(events).toHaveLength(3)
      expect(new Set(events.map(({ recurrenceKey }) => recurrenceKey)).size).toBe(3)
      const local = (at: number) =>
        Temporal.Instant.fromEpochMilliseconds(at)
          .toZonedDateTimeISO(zone)
          .toPlainDateTime()
          .toString()
          .slice(0, 16)
      expect(events.map(({ start }) => local(start)).sort()).toEqual([
        '2026-11-24T00:00',
        '2026-11-25T15:00',
        '2026-11-26T00:00',
      ])
    },
  )
  it('RECURRENCE-ID in another zone is the same instant (synctools #80)', () => {
    const file = [
      'BEGIN:VCALENDAR',
      'BEGIN:VEVENT',
      'UID:z',
      'DTSTART;TZID=America/New_York:20261124T090000',
      'DURATION:PT30M',
      'RRULE:FREQ=WEEKLY;COUNT=2',
      'END:VEVENT',
      'BEGIN:VEVENT',
      'UID:z',
      'RECURRENCE-ID:20261201T140000Z',
      'DTSTART;TZID=America/New_York:20261202T110000',
      'DURATION:PT30M',
      'END:VEVENT',
      'END:VCALENDAR',
    ].join('\n')
    const { events } = readCalendar(Buffer.from(file), OPTIONS)
    expect(events.map(({ start }) => new Date(start).toISOString().slice(0, 16)).sort()).toEqual([
      '2026-11-24T14:00',
      '2026-12-02T16:00',
    ])
  })
  it.each([
    ['Eastern Standard Time', '2026-07-01T13:00'],
    ['W. Europe Standard Time', '2026-07-01T07:00'],
    ['/citadel.org/20210210_1/Europe/Berlin', '2026-07-01T07:00'],
    ['Europe/Kiev', '2026-07-01T06:00'],
  ])('TZID %s is found', (tzid, start) => {
    const file = `BEGIN:VCALENDAR\nBEGIN:VEVENT\nUID:t\nDTSTART;TZID=${tzid}:20260701T090000\nDURATION:PT1H\nEND:VEVENT\nEND:VCALENDAR`
    const { events } = readCalendar(Buffer.from(file), OPTIONS)
    expect(events.map(({ start: at }) => new Date(at).toISOString().slice(0, 16))).toEqual([start])
  })
  it.each(['', 'Customized Time Zone', '(UTC+01:00) Amsterdam\\, Berlin'])(
    'TZID "%s" is asked, never taken for UTC',
    (tzid) => {
      const file = `BEGIN:VCALENDAR\nBEGIN:VEVENT\nUID:t\nDTSTART;TZID="${tzid}":20260701T090000\nDURATION:PT1H\nEND:VEVENT\nEND:VCALENDAR`
      const { events, problems } = readCalendar(Buffer.from(file), OPTIONS)
      expect(events).toEqual([])
      expect(problems).toMatchObject([{ field: 'DTSTART' }])
    },
  )
})

describe('the period that is read', () => {
  it('a series that began years ago gives its days from today on, and says how far it is read', () => {
    const file = [
      'BEGIN:VCALENDAR',
      'BEGIN:VEVENT',
      'UID:old',
      'DTSTART;TZID=Europe/London:20210104T090000',
      'DURATION:PT30M',
      'RRULE:FREQ=WEEKLY',
      'SUMMARY:Ashgrove\\, Aoife: check-up',
      'END:VEVENT',
      'END:VCALENDAR',
    ].join('\r\n')
    const { incoming } = readNow(Buffer.from(file), 'day.ics', {
      ...OPTIONS,
      window: { from: '2026-11-24', to: '2026-12-15' },
    })
    expect(incoming.appointments.map(({ day }) => day as string)).toEqual([
      '2026-11-23',
      '2026-11-30',
      '2026-12-07',
      '2026-12-14',
    ])
    expect(incoming.assumed.join(' ')).toContain('2026-12-15')
    expect(incoming.covers?.days[0]).toBe('2026-11-30')
  })
})

import { execFileSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { readNow } from '#server/imports/read-upload.ts'
import { clockTimeOf, type Zone } from '#shared/base/moment.ts'
import { effect, importFile, list, OPTIONS, row, smallClinic } from './small-clinic.ts'

/**
 * Troubles that others have met and told of in public issue threads (READ), each as small as it can be, with what
 * must come of it here. The number in brackets is the thread's.
 */
const calendar = (...lines: string[]): string =>
  ['BEGIN:VCALENDAR', 'VERSION:2.0', 'PRODID:-//Quay//EN', ...lines, 'END:VCALENDAR', ''].join('\r\n')
const event = (...lines: string[]): string[] => [
  'BEGIN:VEVENT',
  'UID:a',
  'DTSTAMP:20261001T080000Z',
  'SUMMARY:Ashgrove\\, Aoife: comp 46 MO',
  ...lines,
  'END:VEVENT',
]
const read = (text: string | Uint8Array, zone = 'America/New_York', more = {}) =>
  readNow(Buffer.from(text), 'file', {
    ...OPTIONS,
    zone: zone as Zone,
    window: { from: '2026-10-01', to: '2026-12-01' },
    ...more,
  }).incoming
const startsOf = (text: string, zone?: string): string[] =>
  read(text, zone)
    .appointments.map(({ day, startsAt }) => `${day} ${startsAt}`)
    .sort()

describe('calendars', () => {
  it('row 1 (peterbraden/ical.js 107, 139): weekly at nine stays at nine when the clocks change', () => {
    const weekly = calendar(
      ...event(
        'DTSTART;TZID=America/New_York:20261025T090000',
        'DURATION:PT30M',
        'RRULE:FREQ=WEEKLY;COUNT=3',
      ),
    )
    expect(startsOf(weekly)).toEqual(['2026-10-25 09:00', '2026-11-01 09:00', '2026-11-08 09:00'])
    // New York is four hours behind in summer and five in winter.
    expect(read(weekly).appointments.map(({ start }) => new Date(start).getUTCHours())).toEqual([13, 14, 14])
  })

  it('row 2 (node-ical 97, 100, 260): a series cut to days across the change keeps its clock', () => {
    const daily = calendar(
      ...event('DTSTART;TZID=Europe/Berlin:20261001T080000', 'DURATION:PT30M', 'RRULE:FREQ=DAILY'),
    )
    const { appointments } = read(daily, 'Europe/Berlin', {
      window: { from: '2026-10-24', to: '2026-10-26' },
    })
    const started = appointments.map(({ day, startsAt }) => `${day} ${startsAt}`)
    for (const day of ['24', '25', '26']) expect(started).toContain(`2026-10-${day} 08:00`)
    expect(new Set(appointments.map(({ startsAt }) => startsAt))).toEqual(new Set(['08:00']))
    // Berlin is two hours ahead on Saturday and one on Sunday.
    const hours = appointments.map(({ day, start }) => `${day} ${new Date(start).getUTCHours()}`)
    expect(hours).toEqual(expect.arrayContaining(['2026-10-24 6', '2026-10-25 7']))
  })

  it('row 3 (node-ical 459, 460): an override at local midnight takes its own day', () => {
    const moved = calendar(
      ...event('DTSTART;TZID=Pacific/Auckland:20261102T000000', 'DURATION:PT30M', 'RRULE:FREQ=DAILY;COUNT=2'),
      ...event(
        'RECURRENCE-ID;TZID=Pacific/Auckland:20261103T000000',
        'DTSTART;TZID=Pacific/Auckland:20261103T110000',
        'DURATION:PT30M',
      ),
    )
    expect(startsOf(moved, 'Pacific/Auckland')).toEqual(['2026-11-02 00:00', '2026-11-03 11:00'])
  })

  it('row 4 (node-ical 427, 456): an exception by day leaves out its day alone', () => {
    const series = calendar(
      ...event(
        'DTSTART;TZID=Europe/Berlin:20261102T090000',
        'DURATION:PT30M',
        'RRULE:FREQ=DAILY;COUNT=3',
        'EXDATE;VALUE=DATE:20261103',
      ),
    )
    expect(startsOf(series, 'Europe/Berlin')).toEqual(['2026-11-02 09:00', '2026-11-04 09:00'])
  })

  it('row 5 (node-ical 13; rrule 331, 440, 596): an end in UTC equal to the last start keeps it', () => {
    const series = calendar(
      ...event(
        'DTSTART;TZID=America/New_York:20261102T190000',
        'DURATION:PT30M',
        'RRULE:FREQ=DAILY;UNTIL=20261104T000000Z',
      ),
    )
    expect(startsOf(series)).toEqual(['2026-11-02 19:00', '2026-11-03 19:00'])
  })

  it('row 7 (ical-generator 52; vobject 179; icalevents 19): floating time is the clinic’s own', () => {
    const floating = calendar(...event('DTSTART:20261124T093000', 'DURATION:PT30M'))
    expect(startsOf(floating)).toEqual(['2026-11-24 09:30'])
    expect(startsOf(floating, 'Asia/Tokyo')).toEqual(['2026-11-24 09:30'])
  })

  it('row 8 (icalendar 242; iCalcreator 102; ical4j 367; ex_ical 18): a Windows name is its zone, an unknown one is told', () => {
    const zoned = (name: string) =>
      calendar(...event(`DTSTART;TZID=${name}:20261124T093000`, 'DURATION:PT30M'))
    expect(startsOf(zoned('W. Europe Standard Time'), 'Europe/Berlin')).toEqual(['2026-11-24 09:30'])
    const unknown = read(zoned('Clinic Time'))
    expect(unknown.appointments).toEqual([])
    expect(unknown.problems).toHaveLength(1)
  })

  it('row 9 (Mailspring 2877): a zone that is named and not described is still that zone', () => {
    const named = calendar(...event('DTSTART;TZID=Asia/Tokyo:20261124T093000', 'DURATION:PT30M'))
    const [appointment] = read(named, 'Asia/Tokyo').appointments
    expect(new Date(appointment?.start ?? 0).toISOString()).toBe('2026-11-24T00:30:00.000Z')
  })

  it('row 10 (libical 427; icalendar 158): a fold inside a character loses nothing', () => {
    const whole = Buffer.from(
      calendar(
        ...event('DTSTART:20261124T093000Z', 'DURATION:PT30M').map((line) => line.replace('Aoife', 'Zoë')),
      ),
    )
    const inside = whole.indexOf(Buffer.from('ë')) + 1
    const folded = Buffer.concat([whole.subarray(0, inside), Buffer.from('\r\n '), whole.subarray(inside)])
    expect(read(folded).appointments[0]?.patient?.given).toBe('Zoë')
  })

  it('row 11 (calendarize 774, 799): an exception changes its own day and not the series', () => {
    const changed = calendar(
      ...event('DTSTART;TZID=Europe/London:20261102T090000', 'DURATION:PT30M', 'RRULE:FREQ=DAILY;COUNT=3'),
      ...event(
        'SEQUENCE:2',
        'RECURRENCE-ID;TZID=Europe/London:20261103T090000',
        'DTSTART;TZID=Europe/London:20261103T140000',
        'DURATION:PT30M',
      ),
    )
    expect(startsOf(changed, 'Europe/London')).toEqual([
      '2026-11-02 09:00',
      '2026-11-03 14:00',
      '2026-11-04 09:00',
    ])
  })

  it('row 12 (khal 1072; gcalcli 47): cancelled and booked again is the same appointment, revived', () => {
    const as = (status: string, sequence: number) =>
      calendar(
        ...event(
          'DTSTART:20261124T093000Z',
          'DURATION:PT30M',
          `STATUS:${status}`,
          `SEQUENCE:${sequence}`,
          `LAST-MODIFIED:2026100${sequence + 1}T080000Z`,
        ),
      )
    const booked = importFile(smallClinic(), as('CONFIRMED', 0))
    const cancelled = importFile(booked.world, as('CANCELLED', 1))
    const again = importFile(cancelled.world, as('CONFIRMED', 2))
    expect(
      [booked, cancelled, again].map(({ world }) => world.appointment.map(({ status }) => status)),
    ).toEqual([['booked'], ['cancelled'], ['booked']])
    expect(again.world.appointment[0]?.id).toBe(booked.world.appointment[0]?.id)
  })

  it('row 13 (synctools 80): an exception named in another zone is the same instant', () => {
    const changed = calendar(
      ...event('DTSTART;TZID=America/New_York:20261110T090000', 'DURATION:PT30M', 'RRULE:FREQ=DAILY;COUNT=2'),
      // Nine in New York in winter is two in the afternoon in UTC.
      ...event(
        'RECURRENCE-ID:20261111T140000Z',
        'DTSTART;TZID=America/New_York:20261111T100000',
        'DURATION:PT30M',
      ),
    )
    expect(startsOf(changed)).toEqual(['2026-11-10 09:00', '2026-11-11 10:00'])
  })
})

describe('lists', () => {
  const plain = list(row())
  const outcome = (file: string | Uint8Array) => importFile(smallClinic(), file).counts

  it('row 14 (PapaParse 372, 840, 1090; node-csv-parse 284; csv-parser 196; fast-csv 131): a mark before the first header is no part of it', () => {
    expect(outcome(`\uFEFF${plain}`)).toMatchObject({ new: 1, problems: 0 })
    expect(outcome(`\uFEFF${plain.replace('Id,', '"Id",')}`)).toMatchObject({ new: 1, problems: 0 })
  })

  it('row 15 (PapaParse 290, 600, 1005, 1042, 1077): the delimiter is the one that makes the headers known', () => {
    const semicolons =
      'Id;Date;Start;Minutes;Patient;Note\na;2026-11-24;10:00;30;Ashgrove, Aoife;1,5 ml, then, wait'
    expect(outcome(semicolons)).toMatchObject({ new: 1, problems: 0 })
    expect(importFile(smallClinic(), semicolons).world.appointment[0]?.note).toContain('1,5 ml, then, wait')
  })

  it('row 16 (PapaParse 64, 169, 750; encoding.js 12): Windows-1252 is read as such, and says so', () => {
    const bytes = Buffer.from(list(row({ patient: 'Müller, Zoë' })), 'latin1')
    expect(importFile(smallClinic(), bytes).world.patient).toMatchObject([{ family: 'Müller', given: 'Zoë' }])
    expect(read(bytes).assumed.join(' ')).toMatch(/1252/)
  })

  it('row 19 (hapi-fhir 3141, 4597; fhir-server 1382; FHIR 2051): the same appointment twice in a file, and twice over, is one', () => {
    const once = importFile(smallClinic(), list(row(), row()))
    expect(once.world.appointment).toHaveLength(1)
    expect(once.world.patient).toHaveLength(1)
    expect(effect(importFile(once.world, list(row(), row())))).toEqual([])
  })
})

describe('row 6 (rrule 295, 300, 355): the server’s own zone', () => {
  const script = `
    import { readdirSync, readFileSync } from 'node:fs'
    import { createHash } from 'node:crypto'
    import { readNow } from '#server/imports/read-upload.ts'
    const hash = createHash('sha256')
    for (const folder of ['csv-hard', 'ics-hard'])
      for (const name of readdirSync('tests/fixtures/' + folder).sort())
        for (const zone of ['Europe/London', 'America/New_York', 'Australia/Lord_Howe'])
          hash.update(JSON.stringify(readNow(readFileSync('tests/fixtures/' + folder + '/' + name), name,
            { source: 'x', zone, notation: 'iso', window: { from: '2026-01-01', to: '2027-01-01' } })))
    process.stdout.write(Intl.DateTimeFormat().resolvedOptions().timeZone + ' ' + hash.digest('hex'))`
  const under = (zone: string): string =>
    execFileSync(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', script], {
      cwd: new URL('../../..', import.meta.url).pathname,
      env: { ...process.env, TZ: zone },
      encoding: 'utf8',
    })

  it('changes nothing of what any fixture says', { timeout: 240_000 }, () => {
    const zones = ['UTC', 'America/New_York', 'Asia/Tokyo', 'Australia/Lord_Howe']
    const told = zones.map(under)
    expect(told.map((text) => text.split(' ')[0])).toEqual(zones)
    expect(new Set(told.map((text) => text.split(' ')[1])).size).toBe(1)
  })

  it('and the same moment is said on the clinic’s clock', () => {
    expect(clockTimeOf(Date.UTC(2026, 10, 24, 9, 30) as never, 'Asia/Tokyo' as Zone)).toBe('18:30')
  })
})

/**
 * All twenty-seven rows of the list of such troubles: where each is tried, by its file and a part of its title; or why it
 * is no trouble of ours.
 */
const HERE = 'tests/server/imports/from-the-wild.test.ts'
type Tried = [file: string, title: string]
const ROWS: Record<number, Tried[] | string> = {
  1: [
    [HERE, 'weekly at nine stays at nine'],
    ['tests/fixtures/ics-hard/expected.json', '01-weekly-over-dst'],
  ],
  2: [[HERE, 'a series cut to days across the change keeps its clock']],
  3: [
    [HERE, 'an override at local midnight takes its own day'],
    ['tests/server/imports/recurrence.test.ts', "it.each(['Europe/Berlin', 'Pacific/Auckland'])"],
  ],
  4: [
    [HERE, 'an exception by day leaves out its day alone'],
    ['tests/server/imports/recurrence.test.ts', 'EXDATE as a date leaves the day out'],
  ],
  5: [
    [HERE, 'an end in UTC equal to the last start keeps it'],
    ['tests/server/imports/recurrence.test.ts', 'a UTC UNTIL equal to the last start keeps it'],
  ],
  6: [
    [HERE, 'changes nothing of what any fixture says'],
    ['tests/vitest.config.ts', "'America/New_York', 'Asia/Tokyo', 'Australia/Lord_Howe'"],
  ],
  7: [
    [HERE, 'floating time is the clinic’s own'],
    ['tests/fixtures/ics-hard/expected.json', '10-floating'],
  ],
  8: [
    [HERE, 'a Windows name is its zone, an unknown one is told'],
    ['tests/server/imports/recurrence.test.ts', "it.each(['', 'Customized Time Zone'"],
  ],
  9: [[HERE, 'a zone that is named and not described is still that zone']],
  10: [[HERE, 'a fold inside a character loses nothing']],
  11: [[HERE, 'an exception changes its own day and not the series']],
  12: [[HERE, 'cancelled and booked again is the same appointment, revived']],
  13: [
    [HERE, 'an exception named in another zone is the same instant'],
    ['tests/server/imports/recurrence.test.ts', 'RECURRENCE-ID in another zone is the same instant'],
  ],
  14: [[HERE, 'a mark before the first header is no part of it']],
  15: [[HERE, 'the delimiter is the one that makes the headers known']],
  16: [
    [HERE, 'Windows-1252 is read as such, and says so'],
    ['tests/server/imports/lost-letters.test.ts', 'are read as Windows-1252 where no letter is UTF-8'],
  ],
  17: 'Makers’ codes with function characters are not read: what is scanned is our own labels and cards.',
  18: 'Nor are the dates within such codes: a person reads the expiry from the label.',
  19: [
    [HERE, 'the same appointment twice in a file, and twice over, is one'],
    ['tests/server/exchange/runs.test.ts', 'brought twice at once'],
  ],
  20: 'HL7 version 2 is not read.',
  21: [['tests/shared/schedule/zone-rules.test.ts', 'a zone that was renamed is known by both names']],
  22: [['tests/db/login.test.ts', 'two processes that start at once migrate one after the other']],
  23: [
    ['tests/db/lock.test.ts', 'keeps a second process off the same folder'],
    ['tests/db/kill.test.ts', 'loses nothing that was acknowledged'],
  ],
  24: [['tests/screens/process.spec.ts', 'asked to stop it stops within seconds']],
  25: [['tests/server/realtime/changes-route.test.ts', 'ends when the sign-in behind it ends']],
  26: 'Nothing is kept by a worker behind the page: the page itself asks, and says when it cannot be relied on.',
  27: [
    [
      'tests/app/live.test.ts',
      'the same text twice is made different, or a screen reader would pass it over',
    ],
  ],
}

describe('the rows of the list', () => {
  it('are twenty-seven, each tried or given a reason', () => {
    expect(Object.keys(ROWS).map(Number)).toEqual(Array.from({ length: 27 }, (_, index) => index + 1))
  })
  const tried = Object.entries(ROWS).flatMap(([number, of]) =>
    typeof of === 'string' ? [] : of.map(([file, title]): [string, ...Tried] => [number, file, title]),
  )
  it.each(tried)('row %s stands in %s: %s', (number, file, title) => {
    const [text, table] = readFileSync(new URL(`../../../${file}`, import.meta.url), 'utf8').split(
      'const ROWS:',
    )
    expect(text).toContain(title)
    if (table !== undefined) expect(text).toMatch(new RegExp(`row ${number}\\b`))
  })
})

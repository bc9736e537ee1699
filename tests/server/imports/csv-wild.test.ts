import { describe, expect, it } from 'vitest'
import { guardedText, unguarded } from '#server/exports/formula-guard.ts'
import { parseCsv } from '#server/imports/csv.ts'
import { parseTime } from '#server/imports/csv-values.ts'
import { decode } from '#server/imports/decode.ts'
import { formatOf, readNow } from '#server/imports/read-upload.ts'
import type { Zone } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import { importFile, list, OPTIONS, row, smallClinic } from './small-clinic.ts'

const read = (file: string | Uint8Array, more = {}) => parseCsv(Buffer.from(file), { ...OPTIONS, ...more })
const dublin = { zone: 'Europe/Dublin' as Zone }

// COMMON: the contract of the preview. What a list still names, read or not, is not gone from it.
describe('[appointment/vanished] a row that cannot be read is still listed', () => {
  const YARROW = row({ id: 'b', start: '11:00', patient: 'Yarrow, Wanda' })
  const known = (file: string): World => importFile(smallClinic(), file).world
  const withId: [name: string, broken: string][] = [
    ['a cell too few', 'b,2026-11-24,11:00,30,1'],
    ['a cell too few, the id gone', '2026-11-24,11:00,30,1,Dr Corrigan,"Yarrow, Wanda",,,'],
    ['a quote that never closes', 'b,2026-11-24,11:00,30,1,Dr Corrigan,"Yarrow, Wanda,,,,booked'],
    [
      'work of 9,000 letters',
      row({ id: 'b', start: '11:00', patient: 'Yarrow, Wanda', work: 'x'.repeat(9000) }),
    ],
    ['a bad time', row({ id: 'b', start: 'soon', patient: 'Yarrow, Wanda' })],
    ['no patient', row({ id: 'b', start: '11:00', patient: '' })],
  ]
  it.each(withId)('by its id: %s', (_, broken) => {
    const { counts } = importFile(known(list(row(), YARROW)), list(row(), broken))
    expect(counts).toMatchObject({ unchanged: 1, vanished: 0, problems: 1 })
  })

  const bare = (text: string): string => text.replace(/^[^,\r\n]*,/gm, '')
  const WITHOUT = bare(list(row(), YARROW))
  it.each([
    ['a cell too few', '2026-11-24,11:00,30,1,Dr Corrigan,"Yarrow, Wanda"'],
    ['a bad time', bare(row({ start: 'soon', patient: 'Yarrow, Wanda' }))],
    [
      'a birth date that is none',
      bare(row({ start: '11:00', patient: 'Yarrow, Wanda', born: '31/02/1990' })),
    ],
    [
      'work of 9,000 letters',
      bare(row({ start: '11:00', patient: 'Yarrow, Wanda', work: 'x'.repeat(9000) })),
    ],
    ['no patient: its time', bare(row({ start: '11:00', patient: '', dentist: '', work: '' }))],
  ])('without ids, by its patient: %s', (_, broken) => {
    const { counts } = importFile(known(WITHOUT), `${bare(list(row()))}\r\n${broken}`)
    expect(counts).toMatchObject({ unchanged: 1, vanished: 0, problems: 1 })
  })

  it('but the row of another speaks for nobody else', () => {
    const other = bare(row({ start: 'soon', patient: 'Fennimore, Farid' }))
    const { counts } = importFile(known(WITHOUT), `${bare(list(row()))}\r\n${other}`)
    expect(counts).toMatchObject({ unchanged: 1, vanished: 1, problems: 1 })
    const named = row({ id: 'c', start: 'soon', patient: 'Yarrow, Wanda' })
    expect(importFile(known(list(row(), YARROW)), list(row(), named)).counts.vanished).toBe(1)
  })

  it('a birth date written with two figures leaves its patient listed', () => {
    const { counts } = importFile(known(list(row())), list(row({ born: '01-May-90' })))
    expect(counts).toMatchObject({ new: 0, vanished: 0, problems: 1 })
  })
})

// COMMON: they are family names too.
describe('a total, and a patient of such a name', () => {
  const WIDE = 'Family name,Given name,Date,Time,Minutes,Operatory,Dentist,Procedure,Note,Status'
  it.each(['Page', 'Count', 'Sum', 'Total'])('%s, Anna is booked', (family) => {
    const { appointments, problems } = read(`${WIDE}\n${family},Anna,2026-11-26,09:00,,,,,,`)
    expect(problems).toEqual([])
    expect(appointments).toMatchObject([{ patient: { family, given: 'Anna' } }])
  })
  it.each([
    'Page,,2026-11-26,09:00,,,,,,',
    'Count,,,09:00,,,,,,',
    'Page,Anna,,,,,,,,',
    '"Page, Anna",,,,,,,,,',
  ])('%s is booked or told, never passed over', (line) => {
    const { appointments, problems, passedOver } = read(`${WIDE}\n${line}`)
    expect(passedOver).toEqual([])
    expect(appointments.length + problems.length).toBe(1)
  })
  it.each([
    'Total,12,,,,,,,,',
    'Total appointments: 12,,,,,,,,,',
    'Page 1 of 2,,,,,,,,,',
    'Count,,,,12,,,,,',
    'Printed,24.11.2026,,,,,,,,',
  ])('%s closes the list', (line) => {
    expect(read(`${WIDE}\n${line}`).passedOver).toMatchObject([{ line: 2 }])
  })
})

describe('dates and lengths', () => {
  const of = (file: string, more = {}) => read(file, more)
  it.each(['12-Mar-58', '12 March 58', '12/03/58'])('nobody is born on %s', (born) => {
    const { appointments, problems } = of(list(row({ born })), { dateOrder: 'dmy' })
    expect(appointments).toEqual([])
    expect(problems).toMatchObject([{ field: 'born', externalId: 'a' }])
  })
  it('26-11-24 is asked: it is 2024 read day first and 2026 read year first', () => {
    const file = list(row({ day: '26-11-24' }))
    expect(of(file).problems).toMatchObject([{ field: 'day' }])
    expect(of(file, { dateOrder: 'dmy' }).appointments[0]?.day).toBe('2024-11-26')
    expect(of(file, { dateOrder: 'ymd' }).appointments[0]?.day).toBe('2026-11-24')
    expect(of(list(row({ day: '05-11-24' })), { dateOrder: 'ymd' }).appointments[0]?.day).toBe('2005-11-24')
  })
  it('an order that the file contradicts is not taken', () => {
    const { appointments, table } = of(list(row({ day: '24/11/2026' })), { dateOrder: 'ymd' })
    expect([appointments, table.dateOrder]).toEqual([[], 'dmy'])
  })
  // A spreadsheet keeps a time as its part of the day: 0.25 is six, 0.5 noon (COMMON).
  it.each([
    ['0.25', '06:00'],
    ['0.50', '12:00'],
    ['0.5', '12:00'],
    ['0,375', '09:00'],
    ['0.395833333333333', '09:30'],
    ['0.30', null],
    ['0.05', null],
    ['0.999999', null],
    ['00.25', '00:25'],
    ['9.30', '09:30'],
  ])('the time %s is %s', (text, right) => expect(parseTime(text)).toBe(right))
  it('a serial just short of midnight is the next day', () => {
    const { appointments } = of('Start,Time,Patient\n46352.999999,09:00,"Yarrow, Wanda"')
    expect(appointments).toMatchObject([{ day: '2026-11-27', startsAt: '09:00' }])
  })
  it.each([
    ['2026-11-26 09:00', '2026-11-27 08:00', 1380],
    ['2026-11-26 09:00', '2026-11-27 10:00', 'endTime'],
    ['2026-11-26 23:30', '2026-11-27 00:15', 45],
    ['2026-11-26 09:00', '09:45', 45],
    ['2026-11-26 09:00', '46352.4166667', 60],
    ['2026-11-26 09:00', '08:45', 'endTime'],
    ['2026-11-26T09:00:00Z', '2026-11-26T09:00:20Z', 'endTime'],
    ['2026-11-26T09:00:00Z', '2026-11-28T09:00:00Z', 'endTime'],
    // The clocks go from 01:00 to 02:00 on 28 March 2027, and back at 02:00 on 31 October (IANA Europe/Dublin, COMMON).
    ['2027-03-28 00:30', '03:30', 120],
    ['2027-03-28 00:30', '01:30', 'endTime'],
    ['2027-10-31 00:30', '03:30', 240],
  ])('from %s to %s is %s', (start, end, right) => {
    const { appointments, problems } = of(`Start,End,Patient\n${start},${end},"Yarrow, Wanda"`, dublin)
    expect(appointments[0]?.minutes ?? problems[0]?.field).toBe(right)
  })
})

describe('letters', () => {
  const files = list(
    row({ patient: 'Müller, Jan' }),
    row({ id: 'b', start: '11:00', patient: 'Yarrow, Wanda' }),
  )
  const damaged = (text: string): Buffer => {
    const bytes = Buffer.from(text)
    bytes[bytes.indexOf('Wanda') + 1] = 0xe9
    return bytes
  }
  it('one bad byte spoils its own row and no other', () => {
    const { appointments, problems, table } = read(damaged(files))
    expect(table.encoding).toBe('utf-8')
    expect(appointments).toMatchObject([{ patient: { family: 'Müller' } }])
    expect(problems).toMatchObject([{ line: 3, field: 'row', externalId: 'b' }])
    const { world } = importFile(smallClinic(), files)
    expect(importFile(world, damaged(files)).counts).toMatchObject({ new: 0, vanished: 0, problems: 1 })
  })
  it('without ids too: the patient of the spoilt name is still listed', () => {
    const bare = files.replace(/^[^,\r\n]*,/gm, '')
    const { world } = importFile(smallClinic(), bare)
    expect(importFile(world, damaged(bare)).counts).toMatchObject({ new: 0, vanished: 0, problems: 1 })
  })
  it('western letters stay western', () => {
    expect(decode(Buffer.from('Zoë, Renée, Ångström', 'latin1'))).toMatchObject({
      encoding: 'windows-1252',
      text: 'Zoë, Renée, Ångström',
    })
  })
})

describe('two columns that can be the same', () => {
  it.each(['Time,time', 'Start time,Time', 'Dentist,Provider', 'Tooth,Teeth'])(
    '%s: asked, no row taken',
    (pair) => {
      const [one = '', other = ''] = pair.split(',')
      const file = `Date,Patient,${pair}\n2026-11-24,"Yarrow, Wanda",09:00,10:00`
      const { appointments, problems, table, covers } = read(file)
      expect([appointments, covers?.days ?? []]).toEqual([[], []])
      expect(problems).toMatchObject([{ line: 1, field: one }])
      // The columns are there to be told apart.
      expect(table.columns).toHaveLength(4)
      const again = read(`Date,Patient,Time,time\n2026-11-24,"Yarrow, Wanda",09:00,10:00`, {
        mapping: { time: 'ignore' },
      })
      expect(again.appointments).toMatchObject([{ startsAt: '09:00' }])
      expect(other).not.toBe('')
    },
  )
  it('two of allergies are both read', () => {
    const { allergies } = read(
      'Date,Time,Patient,Allergies,Medical alerts\n2026-11-24,09:00,"Yarrow, Wanda",latex,penicillin',
    )
    expect(allergies).toMatchObject([{ text: 'latex penicillin' }])
  })
})

// Words that every object answers to.
describe.each(['constructor', '__proto__', 'toString', 'hasOwnProperty'])('the word %s', (word) => {
  it('is no status, no month and no column', () => {
    const { counts } = importFile(smallClinic(), list(row(), row({ id: 'b', start: '11:00', status: word })))
    expect(counts).toMatchObject({ new: 1, problems: 1 })
    expect(read(list(row({ day: `24 ${word} 2026` }))).problems).toMatchObject([{ field: 'day' }])
    const { table } = read(`Date,Time,Patient,${word}\n2026-11-24,09:00,"Yarrow, Wanda",x`)
    expect(table.columns[3]).toMatchObject({ header: word, field: null })
  })
})

describe('what a file is', () => {
  it.each([
    ['csv', Buffer.from('Пациент,Date,Time\nЯ,2026-11-24,09:00')],
    ['workbook', Buffer.from([0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1])],
    ['csv', Buffer.from(`[Day list]\n${list(row())}`)],
    ['csv', Buffer.from(`{Day list}\n${list(row())}`)],
    ['fhir', Buffer.from('[{"resourceType":"Bundle"}]')],
    ['fhir', Buffer.from('{\n  "resourceType":"Bundle"}')],
  ])('%s', (format, bytes) => {
    expect(formatOf(bytes)).toBe(format)
  })
  it('a list under a title in brackets is read', () => {
    expect(readNow(Buffer.from(`[Day list]\n${list(row())}`), 'x', OPTIONS).incoming).toMatchObject({
      appointments: [{ externalId: 'a' }],
      problems: [],
    })
  })
})

// OWASP, CSV injection (READ): these signs begin a formula, after a separator too.
describe('formulas', () => {
  it.each([
    ['=1+1', "'=1+1"],
    ['＝1', "'＝1"],
    ['＋1', "'＋1"],
    ['－1', "'－1"],
    ['＠x', "'＠x"],
    ['\n=1', "'\n'=1"],
    ['x;=1+1', "x;'=1+1"],
    ['x\t=1+1', "x\t'=1+1"],
    ['x;"=1+1', `x;"'=1+1`],
    ["'-5 min late", "''-5 min late"],
    ['5 - 3 = 2', '5 - 3 = 2'],
  ])('%j leaves as %j and comes home', (text, right) => {
    expect(guardedText(text)).toBe(right)
    expect(unguarded(right)).toBe(text)
  })
})

import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import Papa from 'papaparse'
import { describe, expect, it } from 'vitest'
import { parseCsv } from '#server/imports/csv.ts'
import { parseRows } from '#server/imports/csv-rows.ts'
import { dayOfShape, orderOf, parseMinutes, parseTime, shapeOfDate } from '#server/imports/csv-values.ts'
import { decode } from '#server/imports/decode.ts'
import { list, OPTIONS, row } from './small-clinic.ts'

const FOLDER = new URL('../../fixtures/csv-hard/', import.meta.url)
const bytesOf = (name: string) => readFileSync(new URL(`${name}.csv`, FOLDER))
const read = (file: string | Uint8Array, more = {}) => parseCsv(Buffer.from(file), { ...OPTIONS, ...more })

/** What each hard file holds, worked out by hand: encoding, delimiter, first row under its fields, what is told. */
const HARD: [
  file: string,
  encoding: string,
  delimiter: string,
  first: Record<string, string>,
  told: string[],
][] = [
  ['01-bom', 'utf-8', ',', { day: '2026-11-24', time: '09:00', patient: 'A' }, []],
  [
    '02-semicolon',
    'utf-8',
    ';',
    { day: '24.11.2026', time: '09:00', patient: 'Müller; Jan', note: '1,5 h' },
    [],
  ],
  ['03-quote-newline', 'utf-8', ',', { day: '2026-11-24', note: 'line 1\r\nline "2", end' }, ['2 time']],
  ['04-win1252', 'windows-1252', ',', { day: '2026-11-24', patient: 'Zoë O’Neil – crown' }, ['2 time']],
  ['05-utf16le', 'utf-16le', '\t', { day: '2026-11-24', patient: 'Zoë' }, ['2 time']],
  ['06-sep-line', 'utf-8', ';', { day: '2026-11-24', patient: 'A' }, ['3 time']],
  ['07-tab', 'utf-8', '\t', { day: '2026-11-24', patient: 'A, B' }, ['2 time']],
  ['08-ragged', 'utf-8', ',', { day: '', time: '', patient: '' }, ['2 row', '3 row']],
  ['09-blank+footer', 'utf-8', ',', { day: '2026-11-24', time: '09:00', patient: 'A' }, []],
  ['10-dup-headers', 'utf-8', ',', {}, ['1 Time']],
  ['11-stray-quote', 'utf-8', ',', { day: '2026-11-24', note: '6" ruler' }, ['2 time', '3 row']],
  ['12-cr-only', 'utf-8', ',', { day: '2026-11-24', patient: 'A' }, ['2 time', '3 time']],
  ['13-formula', 'utf-8', ',', { day: '2026-11-24', note: '=HYPERLINK("x")' }, ['2 time']],
  ['14-nul', 'utf-8', ',', { day: '2026-11-24', note: 'a\u2400b' }, ['2 time']],
  ['15-mac-roman-ish', 'windows-1252', ',', {}, ['1 file']],
  ['16-empty', 'utf-8', ',', {}, ['1 file']],
  ['17-header-only', 'utf-8', ',', { day: '', time: '' }, []],
]

describe('hard day lists', () => {
  it.each(HARD)('%s', (name, encoding, delimiter, first, told) => {
    const { table, problems } = read(bytesOf(name))
    expect(table.encoding).toBe(encoding)
    expect(table.delimiter).toBe(delimiter)
    expect(Object.fromEntries(table.columns.map(({ field, sample }) => [field, sample]))).toEqual(first)
    expect(problems.map(({ line, field }) => `${line} ${field}`).sort()).toEqual(told)
  })

  it('a semicolon file names its patient and its day', () => {
    expect(read(bytesOf('02-semicolon')).appointments[0]).toMatchObject({
      day: '2026-11-24',
      startsAt: '09:00',
      patient: { family: 'Müller', given: 'Jan' },
      note: '1,5 h',
    })
  })

  it('a title above the header, blank lines and a total are passed over and counted', () => {
    const { passedOver, appointments } = read(bytesOf('09-blank+footer'))
    expect(appointments).toHaveLength(1)
    expect(passedOver.map(({ line }) => line)).toEqual([1, 2, 5, 6])
  })
})

const cases = JSON.parse(readFileSync(new URL('date_time_cases.json', FOLDER), 'utf8')) as Record<
  'time' | 'date',
  [string, string][]
>

describe('times and dates as lists write them', () => {
  it.each(cases.time)('the time %j is %s', (text, right) => {
    // "24:00", "13:00 PM" and "00:15 AM" are refused: none of them says which moment is meant.
    expect(parseTime(text) ?? 'reject').toBe(/reject|missing/.test(right) ? 'reject' : right)
  })

  it.each(cases.date)('the date %j is %s', (text, right) => {
    const serials = right.includes('1904') ? '1904' : '1900'
    const shape = shapeOfDate(text, serials)
    const orders = orderOf([shape]) ?? []
    if (right.startsWith('AMBIGUOUS')) {
      expect(orders.length).toBeGreaterThan(1)
      return
    }
    const day = dayOfShape(shape, { order: orders[0] ?? null, birth: false })
    const wrong = right.startsWith('reject') || right.startsWith('flag')
    expect(day.ok ? day.value : 'reject').toBe(wrong ? 'reject' : right.slice(0, 10))
    if (right.includes('T09:00')) expect(shape).toMatchObject({ kind: 'day', time: 540 })
  })

  it('one order holds for the whole file: proof in one cell, contradiction, or a question', () => {
    const orders = (...cells: string[]) => orderOf(cells.map((cell) => shapeOfDate(cell)))
    expect(orders('03/04/2026', '24/11/2026')).toEqual(['dmy'])
    expect(orders('03/04/2026', '11/24/2026')).toEqual(['mdy'])
    expect(orders('24/11/2026', '11/24/2026')).toEqual([])
    expect(orders('03/04/2026')).toEqual(['dmy', 'mdy'])
    expect(orders('2026-04-03')).toBeNull()
  })

  it('dates that can be read two ways are asked, and taken once a person has said', () => {
    const file = list(row({ day: '03/04/2026', born: '01/02/1990' }))
    expect(read(file).problems).toMatchObject([{ line: 2, field: 'day' }])
    expect(read(file, { dateOrder: 'dmy' }).appointments[0]).toMatchObject({
      day: '2026-04-03',
      patient: { born: '1990-02-01' },
    })
    expect(read(file, { dateOrder: 'mdy' }).appointments[0]).toMatchObject({
      day: '2026-03-04',
      patient: { born: '1990-01-02' },
    })
  })

  it('a birth year of two figures is no birth year', () => {
    expect(read(list(row({ day: '24/11/2026', born: '01/02/90' }))).problems).toMatchObject([
      { field: 'born' },
    ])
  })

  it('a time that the clocks jump over is asked, not guessed', () => {
    const spring = list(row({ day: '2027-03-28', start: '01:30' }))
    expect(read(spring).problems).toMatchObject([{ line: 2, field: 'time' }])
  })

  it.each([
    ['30', 30],
    ['30 min', 30],
    ['0:45', 45],
    ['1h30', 90],
    ['1,5 h', 90],
    ['1.5 hours', 90],
    ['0', null],
    ['-5', null],
    ['soon', null],
    ['2.5', null],
  ])('the length %s is %s minutes', (text, minutes) => expect(parseMinutes(text)).toBe(minutes))
})

describe('columns', () => {
  it('are mapped by a person where their names say nothing, and what is mapped nowhere stays in the note', () => {
    const file = 'When,Clock,Who,What,Shelf\r\n2026-11-24,09:00,"Yarrow, Wanda",RCT 36,B4'
    expect(read(file).problems).toMatchObject([{ field: 'file' }])
    const mapping = { When: 'day', Clock: 'time', Who: 'patient', What: 'work' }
    expect(read(file, { mapping }).appointments[0]).toMatchObject({
      startsAt: '09:00',
      patient: { family: 'Yarrow' },
      work: [{ text: 'RCT 36' }],
      note: 'Shelf: B4',
    })
  })

  it('a start with an offset is an instant, shown on the clinic’s own clock', () => {
    const file = 'Start,Patient\r\n2026-07-01T09:00:00+02:00,"Yarrow, Wanda"'
    expect(read(file).appointments[0]).toMatchObject({ day: '2026-07-01', startsAt: '08:00' })
  })

  it('a spreadsheet serial with a fraction is a day and a time', () => {
    expect(read('Start,Patient\r\n46350.375,"Yarrow, Wanda"').appointments[0]).toMatchObject({
      day: '2026-11-24',
      startsAt: '09:00',
    })
  })
})

describe('rows against papaparse as an independent reader', () => {
  const cell = fc.string({
    unit: fc.constantFrom('a', 'é', ',', ';', '"', '\n', '\r\n', ' ', '\t', '1'),
    maxLength: 8,
  })
  it('agree on every well-formed file', () => {
    fc.assert(
      fc.property(
        fc.array(fc.array(cell, { minLength: 2, maxLength: 5 }), { minLength: 1, maxLength: 8 }),
        fc.constantFrom(',', ';', '\t'),
        fc.constantFrom('\r\n', '\n'),
        (rows, delimiter, newline) => {
          const text = Papa.unparse(rows, { delimiter, newline, quotes: true })
          expect(parseRows(text, delimiter).map(({ cells }) => cells)).toEqual(rows)
          expect(parseRows(text, delimiter).map(({ cells }) => cells)).toEqual(
            Papa.parse(text, { delimiter, newline }).data,
          )
        },
      ),
      { numRuns: 2000 },
    )
  })
})

describe('the decode ladder', () => {
  const WORDS = 'Zoë O’Neil – crown'
  it.each([
    ['utf-8', Buffer.from(WORDS)],
    ['utf-8', Buffer.concat([Buffer.from([0xef, 0xbb, 0xbf]), Buffer.from(WORDS)])],
    ['utf-16le', Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from(WORDS, 'utf16le')])],
    ['utf-16le', Buffer.from(WORDS, 'utf16le')],
    ['utf-16be', Buffer.concat([Buffer.from([0xfe, 0xff]), Buffer.from(WORDS, 'utf16le').swap16()])],
    ['windows-1252', Buffer.from('Zo\xEB O\x92Neil \x96 crown', 'latin1')],
  ])('%s gives the same words', (encoding, bytes) => {
    expect(decode(bytes)).toMatchObject({ text: WORDS, encoding })
  })

  it('every byte of Windows-1252 is what WHATWG says it is', () => {
    // https://encoding.spec.whatwg.org/index-windows-1252.txt (MEMORY): the 27 that are not Latin-1.
    const INDEX =
      '80 20AC 82 201A 83 0192 84 201E 85 2026 86 2020 87 2021 88 02C6 89 2030 8A 0160 8B 2039 8C 0152 8E 017D 91 2018 92 2019 93 201C 94 201D 95 2022 96 2013 97 2014 98 02DC 99 2122 9A 0161 9B 203A 9C 0153 9E 017E 9F 0178'.split(
        ' ',
      )
    const special = new Map(
      Array.from({ length: INDEX.length / 2 }, (_, index) => [
        Number.parseInt(INDEX[2 * index] ?? '', 16),
        Number.parseInt(INDEX[2 * index + 1] ?? '', 16),
      ]),
    )
    for (let byte = 1; byte < 256; byte += 1) {
      const { text } = decode(Buffer.from([0x41, byte, 0x42, 0xff]))
      expect(text.codePointAt(1)).toBe(special.get(byte) ?? byte)
    }
  })
})

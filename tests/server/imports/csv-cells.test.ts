import { describe, expect, it } from 'vitest'
import { parseCsv } from '#server/imports/csv.ts'
import { dayOfShape, shapeOfDate } from '#server/imports/csv-values.ts'
import { splitStart } from '#server/imports/csv-when.ts'
import type { ReadOptions } from '#server/imports/incoming.ts'
import { must } from '#shared/base/assert.ts'
import { DAY, effect, importFile, OPTIONS, smallClinic } from './small-clinic.ts'

const read = (file: string, more: Partial<ReadOptions> = {}) =>
  parseCsv(Buffer.from(file), { ...OPTIONS, ...more })

/** COMMON: contract of every source, upsert only when newer. London is at UTC in November. */
describe('when a row was changed', () => {
  const HEADER = 'Id,Date,Time,Patient,Changed'
  const changed = (said: string, time = '10:00'): string =>
    `${HEADER}\na,${DAY},${time},"Ashgrove, Aoife","${said}"`
  const stampOf = (said: string, more: Partial<ReadOptions> = {}) => {
    const { appointments, problems } = read(changed(said), more)
    expect(problems).toEqual([])
    const { stamp } = must(appointments[0], 'a row')
    return stamp === null ? null : new Date(stamp).toISOString()
  }

  it.each([
    ['2026-11-24 08:00', '2026-11-24T08:00:00.000Z'],
    ['24/11/2026 08:00', '2026-11-24T08:00:00.000Z'],
    ['24.11.2026, 08:00:30', '2026-11-24T08:00:00.000Z'],
    ['24 Nov 2026 8:00 am', '2026-11-24T08:00:00.000Z'],
    ['2026-07-01T08:00', '2026-07-01T07:00:00.000Z'],
    ['2026-11-24T08:00+01:00', '2026-11-24T07:00:00.000Z'],
    ['2026-11-24', '2026-11-24T00:00:00.000Z'],
    ['46350.5', '2026-11-24T12:00:00.000Z'],
  ])('%s is %s', (said, stamp) => {
    expect(stampOf(said)).toBe(stamp)
  })

  it('is read in the order that the rest of the file proves', () => {
    const file = `${HEADER}\na,24/11/2026,10:00,"Ashgrove, Aoife",03/11/2026 08:00`
    expect(new Date(must(read(file).appointments[0]?.stamp, 'a stamp')).toISOString()).toContain('2026-11-03')
  })

  it.each(['yesterday', '31/11/2026 08:00', '2026-11-24 25:00', '03/11/2026 08:00'])(
    '%s is a problem of its row',
    (said) => {
      const { appointments, problems } = read(changed(said))
      expect(appointments).toEqual([])
      expect(problems.map(({ field, externalId }) => [field, externalId])).toEqual([['changed', 'a']])
      expect(problems[0]?.text).toContain(said)
    },
  )

  it('the row of the day before, come late, changes nothing', () => {
    const { world } = importFile(smallClinic(), changed('24/11/2026 08:00', '11:00'))
    const late = importFile(world, changed('23/11/2026 17:30', '10:00'))
    expect(late.counts).toMatchObject({ older: 1, changed: 0 })
    expect(late.world.appointment[0]?.startsAt).toBe('11:00')
  })

  it('a list without a count does not take back the one that is known', () => {
    const counted = (sequence: string, time: string): string =>
      `Id,Date,Time,Patient,Sequence\na,${DAY},${time},"Ashgrove, Aoife",${sequence}`
    const { world } = importFile(smallClinic(), counted('5', '10:00'))
    const without = importFile(world, `Id,Date,Time,Patient\na,${DAY},11:00,"Ashgrove, Aoife"`)
    expect(without.world.appointment[0]?.external?.sequence).toBe(5)
    const late = importFile(without.world, counted('4', '09:00'))
    expect(late.counts).toMatchObject({ older: 1, changed: 0 })
  })
})

/** COMMON: how lists keep a spreadsheet from dropping leading zeros. */
describe('figures written as a formula of words', () => {
  const numbered = (number: string): string =>
    `Id,Date,Time,Patient,Patient No\na,${DAY},10:00,"Ashgrove, Aoife",${number}`
  it.each(['="000123"', '"=""000123"""', '000123'])('%s is the number 000123', (cell) => {
    expect(read(numbered(cell)).appointments[0]?.patient?.identifiers[0]?.value).toBe('000123')
  })

  it('the same patient in either writing', () => {
    const { world } = importFile(smallClinic(), numbered('000123'))
    const again = importFile(world, numbered('="000123"'))
    expect(effect(again)).toEqual([])
    expect(again.world.patient).toHaveLength(1)
  })

  it('a date and an id in it too', () => {
    const file = `Id,Date,Time,Patient\n="007",="24/11/2026",="10:00","Ashgrove, Aoife"`
    expect(read(file).appointments[0]).toMatchObject({ externalId: '007', day: DAY, startsAt: '10:00' })
  })

  it.each(['=A1', '="a"&"b"'])('%s stays as it is', (cell) => {
    const file = `Id,Date,Time,Patient,Note\na,${DAY},10:00,"Ashgrove, Aoife","${cell.replaceAll('"', '""')}"`
    expect(read(file).appointments[0]?.note).toBe(cell)
  })
})

describe('a weekday before figures', () => {
  // 24 November 2026 is a Tuesday (ISO 8601 calendar, COMMON).
  it.each(['Tue 24.11.2026', 'Tue, 24/11/2026', 'Tuesday 2026-11-24', 'Di 24.11.2026', 'Tue 24.11.26'])(
    '%s is read',
    (date) => {
      const file = `Id,Date,Time,Patient\na,"${date}",10:00,"Ashgrove, Aoife"`
      const { appointments, problems } = read(file, { dateOrder: 'dmy' })
      expect(problems).toEqual([])
      expect(appointments[0]?.day).toBe(DAY)
    },
  )

  it('with its time in one cell', () => {
    expect(splitStart('Tue 24.11.2026 09:30')).toEqual({ date: 'Tue 24.11.2026', time: '09:30' })
    expect(splitStart('Tue 24.11.26')).toEqual({ date: 'Tue 24.11.26', time: '' })
  })

  it.each(['Mon 24.11.2026', 'Wednesday 2026-11-24'])('%s does not agree with itself', (date) => {
    expect(dayOfShape(shapeOfDate(date), { order: 'dmy', birth: false })).toMatchObject({
      reasons: ['weekday'],
    })
  })

  it('what is no date is told whole', () => {
    const { problems } = read(`Id,Date,Time,Patient\na,Tue 24.13.2026,10:00,"Ashgrove, Aoife"`, {
      dateOrder: 'dmy',
    })
    expect(problems[0]?.text).toContain('"Tue 24.13.2026"')
  })
})

/** Spreadsheets count days from 1900 or from 1904, 1,462 days apart (ISO/IEC 29500-1 section 18.17.4, MEMORY). */
describe('day numbers', () => {
  const window = { from: DAY, to: '2027-01-23' }
  const numbered = (day: string): string => `Id,Date,Time,Patient\na,${day},10:00,"Ashgrove, Aoife"`

  it('of today are days from 1900', () => {
    expect(read(numbered('46350'), { window }).appointments[0]?.day).toBe(DAY)
  })

  it.each(['44888', '44890', '44889.0'])('%s, years ago from 1900, is asked with both days', (day) => {
    const { appointments, problems } = read(numbered(day), { window })
    expect(appointments).toEqual([])
    expect(problems[0]?.text).toMatch(/2022-11-2\d counted from 1900, and 2026-11-2\d counted from 1904/)
  })

  it('is read where somebody has said it', () => {
    expect(read(numbered('44888'), { window, serials: '1904' }).appointments[0]?.day).toBe(DAY)
  })

  it('a date of years ago that is written out says which day it is', () => {
    expect(read(numbered('2022-11-23'), { window }).appointments[0]?.day).toBe('2022-11-23')
  })
})

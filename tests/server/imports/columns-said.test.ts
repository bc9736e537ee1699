import { describe, expect, it } from 'vitest'
import { parseCsv } from '#server/imports/csv.ts'
import { DAY, OPTIONS } from './small-clinic.ts'

const read = (file: string, mapping: Record<string, string> = {}) =>
  parseCsv(Buffer.from(file), { ...OPTIONS, mapping })

/** COMMON: the mapping of columns is proposed, can be corrected with a sample beside it, and is remembered. */
describe('a list of which no column is known', () => {
  const FOREIGN = `Termin am;Wer;Wofür\n${DAY} 10:00;Ashgrove, Aoife;RCT 46\n${DAY} 11:00;Yarrow, Wanda;exam\n`
  const HEADLESS = `${DAY},10:00,"Ashgrove, Aoife",RCT 46\n${DAY},11:00,"Yarrow, Wanda",exam\n`

  it('offers the columns by their names, each with a sample', () => {
    const { table, problems, appointments } = read(FOREIGN)
    expect(appointments).toEqual([])
    expect(problems[0]?.text).toContain('say which column is which')
    expect(table.delimiter).toBe(';')
    expect(table.columns).toEqual([
      { header: 'Termin am', field: null, sample: `${DAY} 10:00` },
      { header: 'Wer', field: null, sample: 'Ashgrove, Aoife' },
      { header: 'Wofür', field: null, sample: 'RCT 46' },
    ])
  })

  it('is read once they are said', () => {
    const { appointments, problems } = read(FOREIGN, { 'Termin am': 'start', Wer: 'patient', Wofür: 'work' })
    expect(problems).toEqual([])
    expect(appointments.map(({ startsAt, patient }) => [startsAt, patient?.family])).toEqual([
      ['10:00', 'Ashgrove'],
      ['11:00', 'Yarrow'],
    ])
  })

  it('without a header the columns are offered by their place, and the first row is somebody too', () => {
    const offered = read(HEADLESS)
    expect(offered.appointments).toEqual([])
    expect(offered.table.columns.map(({ header, sample }) => [header, sample])).toEqual([
      ['Column 1', DAY],
      ['Column 2', '10:00'],
      ['Column 3', 'Ashgrove, Aoife'],
      ['Column 4', 'RCT 46'],
    ])
    const said = { 'Column 1': 'day', 'Column 2': 'time', 'Column 3': 'patient', 'Column 4': 'work' }
    const { appointments, problems, rows } = read(HEADLESS, said)
    expect(problems).toEqual([])
    expect(rows).toBe(2)
    expect(appointments.map(({ patient }) => patient?.family)).toEqual(['Ashgrove', 'Yarrow'])
  })

  it('an empty file and one of a single column offer nothing', () => {
    expect(read('').table.columns).toEqual([])
    expect(read('hello\nthere\n').table.columns).toEqual([])
  })
})

describe('a column that is remembered', () => {
  const SAID = {
    Wer: 'patient',
    'Termin am': 'start',
    'operatory/wofur': '00000000-0000-4000-8000-000000000001',
  }
  it.each(['TERMIN AM;WER;Wofur', 'Termin-am;wer;WOFUR'])('%s is the same column', (header) => {
    const { table, appointments } = read(`${header}\n${DAY} 10:00;Ashgrove, Aoife;RCT 46\n`, SAID)
    expect(table.columns.map(({ field }) => field)).toEqual(['start', 'patient', null])
    expect(appointments).toHaveLength(1)
  })

  it('exactly named, that one counts', () => {
    const { table } = read(`Wer;WER;Date;Time\nAshgrove;x;${DAY};10:00\n`, { Wer: 'patient', WER: 'note' })
    expect(table.columns.map(({ field }) => field)).toEqual(['patient', 'note', 'day', 'time'])
  })
})

import { describe, expect, it } from 'vitest'
import { parseCsv } from '#server/imports/csv.ts'
import { decode } from '#server/imports/decode.ts'
import { OPTIONS } from './small-clinic.ts'

const swapped = (bytes: Buffer): Buffer => Buffer.from(bytes).swap16()
/** Unicode: UTF-16 of U+0400 to U+04FF has 04 in its upper byte, that of western letters 00 (COMMON). */
const LISTS: [script: string, header: string, name: string, work: string][] = [
  ['Cyrillic', 'Id;Date;Time;Patient;Procedure', 'Ясенева, Злата', 'лечение канала сорок шестого зуба'],
  ['Greek', 'Id;Date;Time;Patient;Procedure', 'Δενδρινού, Μελίνα', 'απονεύρωση του κάτω γομφίου'],
  ['Han', 'Id,Date,Time,Patient,Procedure', '白樺 あやめ', '根管治療 ここに長い説明が続きます'],
  ['Latin', 'Id,Date,Time,Patient,Procedure', 'Åström Bóthildur', 'RCT 46'],
]

describe('UTF-16 without a mark', () => {
  it.each(LISTS)('%s names', (_, header, name, work) => {
    const separator = header.includes(';') ? ';' : ','
    const rows = Array.from({ length: 12 }, (__, index) =>
      [index + 1, '2026-11-24', '10:00', `"${name}"`, `"${work}"`].join(separator),
    )
    const text = [header, ...rows, ''].join('\r\n')
    const little = Buffer.from(text, 'utf16le')
    expect(decode(little)).toMatchObject({ text, encoding: 'utf-16le', damaged: false })
    expect(decode(swapped(little))).toMatchObject({ text, encoding: 'utf-16be', damaged: false })
    const { appointments, problems } = parseCsv(little, OPTIONS)
    expect(problems).toEqual([])
    expect(appointments).toHaveLength(12)
    expect(decode(Buffer.from(text)).encoding).toBe('utf-8')
  })

  it('some zeros among bytes of one each are none', () => {
    const text = `Id,Date\r\n${'a\0b,c\r\n'.repeat(20)}`
    expect(decode(Buffer.from(text)).encoding).toBe('utf-8')
  })
})

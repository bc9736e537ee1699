import Papa from 'papaparse'
import { describe, expect, it } from 'vitest'
import { makeRecallCsv, type RecallTold } from '#server/exports/recall.ts'
import type { Zone } from '#shared/base/moment.ts'
import type { Facts } from '#shared/facts.ts'
import { at, nextId } from '../../support/tray-clinic.ts'

const appointmentId = nextId<Facts['appointment']['id']>()
const visit = { appointmentId, start: at('09:00'), operatory: '3' }
const told: RecallTold = {
  loads: [],
  packs: [
    { packId: nextId(), code: 'AAAA', kind: 'dam-set', load: '7, late', where: 'used', place: null, visit },
    {
      packId: nextId(),
      code: 'BBBB',
      kind: 'dam-set',
      load: '7, late',
      where: 'shelf',
      place: '=bay "2"',
      visit: null,
    },
    { packId: nextId(), code: 'CCCC', kind: 'dam-set', load: '7, late', where: 'tray', place: null, visit },
  ],
  trays: [],
  patients: [
    {
      ...visit,
      patientId: nextId(),
      name: 'Ana "Bé" Müller',
      born: '1990-04-02',
      used: at('09:10'),
      codes: ['AAAA'],
    },
  ],
  operatories: ['3'],
  cannotNarrow: ['DDDD'],
}

describe('a recall as a file', () => {
  const text = makeRecallCsv(told, 'Etc/UTC' as Zone)
  const { data, errors } = Papa.parse<Record<string, string>>(text.slice(1), {
    header: true,
    skipEmptyLines: true,
  })

  it('is read back by another reader, a row for each pack and each that cannot be narrowed', () => {
    expect(errors).toEqual([])
    expect(text.charCodeAt(0)).toBe(0xfeff)
    expect(data.map(({ Pack }) => Pack)).toEqual(['AAAA', 'BBBB', 'CCCC', 'DDDD'])
    expect(data[3]?.Where).toMatch(/cannot be narrowed/)
  })
  it('names the patient beside the pack used, and nobody beside the others', () => {
    expect(data.map(({ Patient }) => Patient)).toEqual(['Ana "Bé" Müller', '', '', ''])
    expect(data[0]).toMatchObject({ Used: '2026-11-24 09:10', Born: '1990-04-02', Operatory: '3' })
    expect(data[2]).toMatchObject({ Operatory: '3', Appointment: '2026-11-24 09:00', Used: '' })
  })
  it('keeps a spreadsheet from running what a person entered', () => {
    expect(data[1]?.Place).toBe(`'=bay "2"`)
  })
})

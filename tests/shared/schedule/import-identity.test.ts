import { describe, expect, it } from 'vitest'
import { must } from '#shared/base/assert.ts'
import type { World } from '#shared/facts.ts'
import { effect, importFile, list, row, smallClinic } from '../../server/imports/small-clinic.ts'

const NUMBERED = 'Id,Date,Start,Minutes,Patient No,Patient,Born,Procedure'
const numbered = (...rows: string[]): string => [NUMBERED, ...rows].join('\r\n')
const line = (id: string, number: string, { day = '2026-11-24', start = '10:00' } = {}): string =>
  `${id},${day},${start},30,${number},"Ashgrove, Aoife",1990-05-01,RCT 36`
/** Whose each visit is, by number. */
const whose = (world: World): (string | undefined)[] =>
  world.appointment.map(
    ({ patientId }) => world.patient.find(({ id }) => id === patientId)?.identifiers[0]?.value,
  )

describe('a visit whose row names another patient number', () => {
  it('goes to the one of that number, though name and birth date are the same', () => {
    const before = importFile(smallClinic(), numbered(line('a', '100'))).world
    const { world, counts } = importFile(before, numbered(line('a', '200')))
    expect(counts).toMatchObject({ changed: 1, unchanged: 0 })
    expect(whose(world)).toEqual(['200'])
  })

  it('goes to one who is known by that number', () => {
    const two = numbered(line('a', '100'), line('b', '200', { start: '14:00' }))
    const before = importFile(smallClinic(), two).world
    const { world } = importFile(before, numbered(line('a', '200'), line('b', '200', { start: '14:00' })))
    expect(world.patient).toHaveLength(2)
    expect(whose(world)).toEqual(['200', '200'])
  })

  it('is another visit where its row carries no id', () => {
    const before = importFile(smallClinic(), numbered(line('', '100'))).world
    const { world, counts } = importFile(before, numbered(line('', '200')))
    expect(counts).toMatchObject({ new: 1, vanished: 1 })
    expect(whose(world)).toEqual(['100', '200'])
  })

  it('keeps its patient where a number is only added', () => {
    const before = importFile(smallClinic(), numbered(line('a', ''))).world
    const { world } = importFile(before, numbered(line('a', '100')))
    expect(world.patient).toHaveLength(1)
    expect(whose(world)).toEqual(['100'])
  })
})

describe('a source that gains or loses its ids', () => {
  const days = (ids: boolean): string =>
    list(
      row({ id: ids ? 'a' : '', work: 'RCT 36' }),
      row({ id: ids ? 'b' : '', start: '11:00', patient: 'Yarrow, Wanda' }),
    )

  it('gives the same visits their ids, and doubles none', () => {
    const before = importFile(smallClinic(), days(false)).world
    const { world, counts } = importFile(before, days(true))
    expect(counts).toMatchObject({ new: 0, vanished: 0, unchanged: 2, problems: 0 })
    expect(world.appointment.map(({ id, external }) => [id, external?.externalId])).toEqual(
      before.appointment.map(({ id }, index) => [id, ['a', 'b'][index]]),
    )
    expect(effect(importFile(world, days(true)))).toEqual([])
  })

  it('finds them again where the column of ids was mapped wrong at first', () => {
    const first = importFile(smallClinic(), days(true), { mapping: { Id: 'ignore' } }).world
    const { world, counts } = importFile(first, days(true), { mapping: { Id: 'id' } })
    expect(counts).toMatchObject({ new: 0, vanished: 0 })
    expect(world.appointment).toHaveLength(2)
    expect(world.appointment.map(({ external }) => external?.externalId)).toEqual(['a', 'b'])
  })

  it('keeps the ids that are known where a list leaves them out', () => {
    const before = importFile(smallClinic(), days(true)).world
    const without = importFile(before, days(false))
    expect(without.counts).toMatchObject({ new: 0, vanished: 0 })
    expect(without.world.appointment.map(({ external }) => external?.externalId)).toEqual(['a', 'b'])
    const again = importFile(without.world, list(row({ work: 'RCT 36', start: '15:00' })))
    expect(again.counts).toMatchObject({ new: 0, changed: 1 })
  })
})

describe('an id under which somebody else comes on another day', () => {
  const first = importFile(smallClinic(), list(row({ id: '1' }))).world
  const other = { day: '2026-11-25', patient: 'Emberly, Edda', born: '1971-02-03' }

  it.each([
    ['running numbers', '1'],
    ['cut short by a spreadsheet', '1.23457E+11'],
  ])('[import/row-open] is asked, and the visit that is known stays: %s', (_, id) => {
    const before = importFile(smallClinic(), list(row({ id }))).world
    const { world, counts } = importFile(before, list(row({ id, ...other })))
    expect(counts).toMatchObject({ new: 0, changed: 0, problems: 1 })
    expect(world.appointment).toEqual(before.appointment)
    expect(world.patient).toEqual(before.patient)
    expect(must(world.importProblem[0], 'it is asked').text).toContain('another patient on another day')
  })

  it('[import/row-open] within one file neither is taken, whichever is newer', () => {
    const file = [
      'Id,Date,Start,Minutes,Patient,Born,Procedure,Changed',
      '1.2E+11,2026-11-24,10:00,30,"Ashgrove, Aoife",1990-05-01,RCT 36,2026-11-10T08:00:00Z',
      '1.2E+11,2026-11-25,10:00,30,"Emberly, Edda",1971-02-03,RCT 36,2026-11-11T08:00:00Z',
    ].join('\r\n')
    const { world, counts } = importFile(smallClinic(), file)
    expect(counts).toMatchObject({ new: 0, problems: 2 })
    expect(world.appointment).toEqual([])
  })

  it('another day alone, or another name alone, is a change', () => {
    expect(importFile(first, list(row({ id: '1', day: '2026-11-25' }))).counts.changed).toBe(1)
    expect(
      importFile(first, list(row({ id: '1', patient: 'Emberly, Edda', born: '1971-02-03' }))).counts,
    ).toMatchObject({ changed: 1, problems: 0 })
  })
})

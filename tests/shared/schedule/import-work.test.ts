import { describe, expect, it } from 'vitest'
import { must } from '#shared/base/assert.ts'
import type { World } from '#shared/facts.ts'
import { judgeWork } from '#shared/procedures/judge-work.ts'
import type { Work } from '#shared/procedures/work.ts'
import { DAY, effect, importFile, list, row, smallClinic } from '../../server/imports/small-clinic.ts'

const asked = (work: Work): string[] =>
  judgeWork(work, { chart: null, ageYears: 36, sideConfirmed: false })
    .filter(({ level }) => level === 'ask')
    .map(({ rule }) => rule)
const onlyWork = (world: World): Work => {
  expect(world.work).toHaveLength(1)
  return must(world.work[0], 'a line of work')
}

const HEADER = 'Id,Date,Time,Patient,Born,Procedure,Tooth,Surface'
const listed = (procedure: string, tooth: string, surfaces = ''): string =>
  `${HEADER}\r\na,${DAY},10:00,"Ashgrove, Aoife",1990-05-01,"${procedure}","${tooth}","${surfaces}"`

const FHIR_TOOTH = 'http://terminology.hl7.org/CodeSystem/ex-tooth'
const coded = (words: string, ...teeth: string[]): string =>
  JSON.stringify({
    resourceType: 'Bundle',
    type: 'collection',
    entry: [
      {
        resource: {
          resourceType: 'Patient',
          id: 'p',
          name: [{ text: 'Aoife Ashgrove' }],
          birthDate: '1990-05-01',
        },
      },
      {
        resource: {
          resourceType: 'ServiceRequest',
          id: 's',
          status: 'active',
          intent: 'order',
          subject: { reference: 'Patient/p' },
          code: { text: words },
          bodySite: teeth.map((code) => ({ coding: [{ system: FHIR_TOOTH, code }] })),
        },
      },
      {
        resource: {
          resourceType: 'Appointment',
          id: 'a',
          status: 'booked',
          start: `${DAY}T10:00:00Z`,
          end: `${DAY}T10:30:00Z`,
          basedOn: [{ reference: 'ServiceRequest/s' }],
          participant: [{ actor: { reference: 'Patient/p' }, status: 'accepted' }],
        },
      },
    ],
  })

const event = (summary: string, tooth: string): string =>
  [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//quay//EN',
    'BEGIN:VEVENT',
    'UID:a',
    'DTSTAMP:20261123T080000Z',
    'DTSTART:20261124T100000Z',
    'DTEND:20261124T103000Z',
    `SUMMARY:Aoife Ashgrove: ${summary}`,
    `DESCRIPTION:Born: 1990-05-01\\nTooth: ${tooth}`,
    'END:VEVENT',
    'END:VCALENDAR',
    '',
  ].join('\r\n')

/** Two placings of one tooth in one booking: Joint Commission Universal Protocol, differences settled first (READ). */
const DIFFER: [form: string, file: string, candidates: string[]][] = [
  ['FHIR, another number', coded('RCT 36', '46'), ['46', '36']],
  ['FHIR, another corner', coded('RCT LL6', '46'), ['46', '36']],
  ['FHIR, another side in words', coded('RCT lower left', '46'), ['46', '36']],
  ['FHIR, another arch far from the end', coded('upper right, RCT for pain', '46'), ['46', '16']],
  ['FHIR, one tooth more in words', coded('Comp 46 and 47', '46'), ['46', '47']],
  ['CSV, another number', listed('RCT 36', '46'), ['46', '36']],
  ['CSV, another corner', listed('RCT LL6', '46'), ['46', '36']],
  ['CSV, another side in words', listed('lower left RCT', '46'), ['46', '36']],
  ['iCalendar, another number', event('RCT 36', '46'), ['46', '36']],
]

describe('a tooth given apart from the words', () => {
  it.each(DIFFER)('[tooth/words-contradict] %s: nobody chooses', (_, file, candidates) => {
    const { world } = importFile(smallClinic(), file)
    const work = onlyWork(world)
    expect(work.teeth).toEqual([])
    expect(asked(work)).toHaveLength(1)
    expect(['tooth/words-contradict', 'tooth/ambiguous']).toContain(asked(work)[0])
    expect(work.mentions[0]?.candidates.toSorted()).toEqual(candidates.toSorted())
    expect(effect(importFile(world, file))).toEqual([])
  })

  it.each([
    ['FHIR', coded('RCT 46', '46')],
    ['FHIR, side in words', coded('RCT lower right', '46')],
    ['FHIR, no tooth in words', coded('RCT', '46')],
    ['CSV', listed('RCT 46', '46')],
    ['CSV, side in words', listed('RCT lower right', '46')],
    ['CSV, no tooth in words', listed('RCT', '46')],
    ['iCalendar', event('RCT 46', '46')],
  ])('is clear where they agree: %s', (_, file) => {
    const work = onlyWork(importFile(smallClinic(), file).world)
    expect(work.teeth).toEqual(['46'])
    expect(asked(work)).toEqual([])
  })

  it('stands once in the words where both name it', () => {
    expect(onlyWork(importFile(smallClinic(), listed('RCT 36', '36')).world).text).toBe('RCT 36')
  })

  it('what the dentist has named stands when the list comes again, moved', () => {
    const { world } = importFile(smallClinic(), coded('RCT 36', '46'))
    const work = onlyWork(world)
    const named: Work = {
      ...work,
      teeth: ['36'],
      mentions: work.mentions.map((mention) => ({ ...mention, candidates: ['36'] })),
    }
    const later = coded('RCT 36', '46').replace('T10:00', 'T09:45')
    const again = importFile({ ...world, work: [named] }, later)
    expect(again.counts.changed).toBe(1)
    expect(again.world.work).toEqual([named])
    const other = importFile({ ...world, work: [named] }, coded('RCT 36', '47'))
    expect(onlyWork(other.world).teeth).toEqual([])
  })
})

/** The letters of surfaces are Black's, as every chart writes them (COMMON). */
describe('surfaces of several teeth in a list', () => {
  const surfacesOf = (tooth: string, surfaces: string) =>
    onlyWork(importFile(smallClinic(), listed('Comp', tooth, surfaces)).world)
  it.each([
    ['36, 37', 'MO, DO'],
    ['36;37', 'MO;DO'],
    ['36 37', 'mo do'],
    ['LL6, LL7', 'MO/DO'],
  ])('%s with %s go together in their order', (tooth, surfaces) => {
    const work = surfacesOf(tooth, surfaces)
    expect(work.teeth).toEqual(['36', '37'])
    expect(work.surfaces).toEqual({ 36: ['M', 'O'], 37: ['D', 'O'] })
  })

  it.each([
    ['36, 37', 'MO', ['36', '37']],
    ['36, 37', 'MO, DO, B', ['36', '37']],
    ['34-36', 'MO', ['34', '35', '36']],
  ])('%s with %s: whose they are is left open, and no tooth is lost', (tooth, surfaces, teeth) => {
    const work = surfacesOf(tooth, surfaces)
    expect(work.teeth).toEqual(teeth)
    expect(work.surfaces).toEqual({})
    expect(work.text).toContain(surfaces)
  })

  it('one tooth has them all', () => {
    expect(surfacesOf('36', 'MOD').surfaces).toEqual({ 36: ['M', 'O', 'D'] })
  })
})

describe('the lines of one visit', () => {
  const lines = (...works: string[]): string => list(...works.map((work) => row({ work })))
  const brought = importFile(smallClinic(), lines('zz 36', 'comp 46 MO')).world
  /** A person has said what `zz` is. */
  const named: World = {
    ...brought,
    work: brought.work.map((work) => (work.text === 'zz 36' ? { ...work, kind: 'root-canal' } : work)),
  }

  it('in another order are the same: nothing is changed', () => {
    const again = importFile(named, lines('comp 46 MO', 'zz 36'))
    expect(again.counts).toMatchObject({ changed: 0, unchanged: 1 })
    expect(effect(again)).toEqual([])
  })

  it('with one put in front are that one more', () => {
    const again = importFile(named, lines('exam', 'zz 36', 'comp 46 MO'))
    expect(again.change.put.work?.map(({ text }) => text)).toEqual(['exam'])
    expect(again.world.work.find(({ text }) => text === 'zz 36')?.kind).toBe('root-canal')
  })

  it('without the first are the others as they were', () => {
    const again = importFile(named, lines('comp 46 MO'))
    expect(again.change.put.work).toBeUndefined()
    expect(again.world.work).toEqual(named.work.filter(({ text }) => text === 'comp 46 MO'))
  })

  it('with one reworded keep its id, and the other what it was named', () => {
    const again = importFile(named, lines('comp 47 MO', 'zz 36'))
    expect(again.change.put.work?.map(({ id, teeth }) => [id, teeth])).toEqual([
      [named.work.find(({ text }) => text === 'comp 46 MO')?.id, ['47']],
    ])
  })

  it('[work/undetermined] a line in words nobody knows is asked until someone names it', () => {
    const open = brought.work.filter((work) => asked(work).includes('work/undetermined'))
    expect(open.map(({ text }) => text)).toEqual(['zz 36'])
  })
})

import { describe, expect, it } from 'vitest'
import { must } from '#shared/base/assert.ts'
import type { Zone } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import type { SiteId } from '#shared/ids.ts'
import { effect, importFile, list, row, smallClinic } from '../../server/imports/small-clinic.ts'

const FAR = '00000002-0000-4000-8000-000000000002' as SiteId

/** Operatory 9 stands at a second site. */
function twoSites(zone: string): World {
  const world = smallClinic()
  const site = must(world.site[0], 'a site')
  return {
    ...world,
    site: [...world.site, { ...site, id: FAR, name: 'Far', zone: zone as Zone }],
    operatory: world.operatory.map((each) => (each.name === '9' ? { ...each, siteId: FAR } : each)),
  }
}
const event = (start: string): string =>
  [
    'BEGIN:VCALENDAR',
    'BEGIN:VEVENT',
    'UID:u1',
    `DTSTART:${start}`,
    'DURATION:PT30M',
    'LOCATION:9',
    'SUMMARY:Ashgrove\\, Aoife: RCT 36',
    'END:VEVENT',
    'END:VCALENDAR',
  ].join('\r\n')

/** IANA rules (COMMON): in November New York stands at −5 and Tokyo at +9. */
describe('a row of an operatory at a site in another zone', () => {
  it.each([
    [
      'CSV, by the clock',
      'America/New_York',
      list(row({ operatory: '9', start: '09:00' })),
      '09:00',
      '14:00',
    ],
    ['CSV, by the clock', 'Asia/Tokyo', list(row({ operatory: '9', start: '09:00' })), '09:00', '00:00'],
    ['a floating event', 'America/New_York', event('20261124T090000'), '09:00', '14:00'],
    ['an event in UTC', 'America/New_York', event('20261124T140000Z'), '09:00', '14:00'],
  ])('%s in %s', (_, zone, file, startsAt, utc) => {
    const { world } = importFile(twoSites(zone), file)
    expect(world.appointment).toMatchObject([
      { siteId: FAR, zone, day: '2026-11-24', startsAt, start: Date.parse(`2026-11-24T${utc}:00Z`) },
    ])
    expect(effect(importFile(world, file))).toEqual([])
  })

  it('stays by the clock of the first site where it names an operatory there, or none', () => {
    const { world } = importFile(
      twoSites('America/New_York'),
      list(row({ start: '09:00' }), row({ id: 'b', start: '09:00', operatory: '', patient: 'Pell, Otis' })),
    )
    expect(world.appointment.map(({ zone, start }) => [zone, start])).toEqual(
      Array(2).fill(['Europe/London', Date.parse('2026-11-24T09:00:00Z')]),
    )
  })

  it('[import/row-open] a time that its clock jumps over is asked', () => {
    const file = list(row({ operatory: '9', day: '2027-03-14', start: '02:30' }))
    const { world, counts } = importFile(twoSites('America/New_York'), file)
    expect(counts).toMatchObject({ new: 0, problems: 1 })
    expect(world.importProblem[0]?.text).toContain('jump over 02:30')
  })
})

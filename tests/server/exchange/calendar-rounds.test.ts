import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { goRound, type RoundsHouse, readCalendars } from '#server/imports/calendar-rounds.ts'
import { MORNING } from '#tests/support/clinic.ts'
import { openServed, type Served } from './served.ts'

const event = (uid: string, hour: number, patient: string, day = 24): string[] => [
  'BEGIN:VEVENT',
  `UID:${uid}`,
  'DTSTAMP:20261120T080000Z',
  `DTSTART:202611${day}T${hour}0000Z`,
  `DTEND:202611${day}T${hour}3000Z`,
  'LOCATION:1',
  `SUMMARY:${patient}: comp 46 MO`,
  'END:VEVENT',
]
const calendar = (...events: string[][]): string =>
  ['BEGIN:VCALENDAR', 'VERSION:2.0', 'PRODID:-//Quay//EN', ...events.flat(), 'END:VCALENDAR', ''].join('\r\n')

describe('calendars by address', () => {
  let served: Served
  let house: RoundsHouse
  let minutes = 0
  let answer = { status: 200, body: '' }
  const outside = createServer((_, response) => {
    response.writeHead(answer.status, { 'content-type': 'text/calendar' })
    response.end(answer.body)
  })
  beforeAll(async () => {
    served = await openServed('pglite')
    await new Promise<void>((resolve) => outside.listen(0, '127.0.0.1', resolve))
    const { clinic } = served
    const { database, environment, log } = served.house
    house = {
      database,
      log,
      environment: { ...environment, CALENDAR_INSIDE_HOSTS: ['localhost'] },
      wall: () => MORNING + minutes * 60_000,
      clinics: async () => [clinic.clinicId],
    }
    await clinic.done('calendar.follow', {
      source: 'front desk calendar',
      notation: 'iso',
      address: `http://localhost:${(outside.address() as AddressInfo).port}/day.ics`,
      everyMinutes: 15,
    })
  })
  afterAll(async () => {
    outside.close()
    await served.close()
  })

  /** So many minutes later, another look. */
  const round = async (body: string, later = 15, status = 200) => {
    minutes += later
    answer = { status, body }
    await goRound(house)
    const world = await served.clinic.world()
    const { rounds } = await readCalendars(served.house.database, served.clinic.clinicId)
    return {
      of: (uid: string) => world.appointment.find(({ external }) => external?.externalId === uid),
      batches: world.importBatch.length,
      failure: rounds[0]?.failure ?? null,
    }
  }
  const third = event('c', 12, 'Fennimore, Farid')
  const both = calendar(event('a', 10, 'Ashgrove, Aoife'), event('b', 11, 'Yarrow, Wanda'), third)
  const one = calendar(event('a', 10, 'Ashgrove, Aoife'), third)

  test('are fetched and taken when they are due, and not before', async () => {
    expect(await round(both)).toMatchObject({ batches: 1, failure: null })
    expect((await round(one, 14)).of('b')?.vanished).toBe(null)
  })

  test('that say nothing new leave no trace', async () => {
    expect((await round(both)).batches).toBe(1)
    expect((await round(`${both}\r\n`)).batches).toBe(1)
  })

  test('an appointment that is missing once stands; missing twice running it is asked, and never dropped', async () => {
    expect((await round(one)).of('b')).toMatchObject({ vanished: null, status: 'booked' })
    expect((await round(both)).of('b')?.vanished).toBe(null)
    expect((await round(one)).of('b')?.vanished).toBe(null)
    const twice = await round(one)
    expect(twice.of('b')).toMatchObject({ status: 'booked', vanished: expect.anything() })
    expect(twice.of('a')?.vanished).toBe(null)
    expect((await round(both)).of('b')?.vanished).toBe(null)
  })

  test('a day that is emptied whole is asked about, be it tomorrow and nothing left at all', async () => {
    const next = event('d', 10, 'Pell, Otis', 25)
    const nextToo = event('e', 11, 'Rusk, Ada', 25)
    await round(
      calendar(event('a', 10, 'Ashgrove, Aoife'), event('b', 11, 'Yarrow, Wanda'), third, next, nextToo),
    )
    expect((await round(both)).of('d')?.vanished).toBe(null)
    const twice = await round(both)
    expect([twice.of('d'), twice.of('e')]).toMatchObject([
      { status: 'booked', vanished: expect.anything() },
      { status: 'booked', vanished: expect.anything() },
    ])
    expect(twice.of('a')?.vanished).toBe(null)

    expect((await round(calendar())).of('a')?.vanished).toBe(null)
    const none = await round(calendar())
    expect([none.of('a'), none.of('b'), none.of('c')]).toMatchObject(
      Array.from({ length: 3 }, () => ({ status: 'booked', vanished: expect.anything() })),
    )
    expect(none.failure).toBe(null)
    const back = await round(both)
    expect([back.of('a')?.vanished, back.of('b')?.vanished]).toEqual([null, null])
  })

  test('a calendar that breaks off speaks for nothing', async () => {
    const cut = both.slice(0, both.indexOf('UID:b'))
    await round(cut)
    expect((await round(cut)).of('b')?.vanished).toBe(null)
    await round(both)
  })

  test('one that fails is told, changes nothing, and is tried again', async () => {
    const failed = await round('gone', 15, 503)
    expect(failed.failure).toContain('503')
    expect(failed.of('a')?.vanished).toBe(null)
    const page = await round('<html>sign in</html>')
    expect(page.failure).toContain('no calendar')
    expect((await round(both)).failure).toBe(null)
  })

  test('an address inside the network is asked only where a setting names its host', async () => {
    house = { ...house, environment: { ...house.environment, CALENDAR_INSIDE_HOSTS: [] } }
    expect((await round(both)).failure).toContain('inside the clinic')
  })

  test('[import/address-unread] what is no web address is refused; one that is left is fetched no more', async () => {
    const refused = await served.clinic.perform('calendar.follow', {
      source: 'x',
      notation: 'iso',
      address: 'file:///etc/hosts',
      everyMinutes: 15,
    })
    expect(refused).toMatchObject({ refused: true, findings: [{ rule: 'import/address-unread' }] })
    const [known] = (await served.clinic.world()).calendarAddress
    await served.clinic.done('calendar.leave', { calendarId: known?.id })
    expect((await served.clinic.world()).calendarAddress).toEqual([])
  })
})

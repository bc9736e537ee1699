import { describe, expect, it } from 'vitest'
import type { World } from '#shared/facts.ts'
import { importFile, smallClinic } from '../../server/imports/small-clinic.ts'

const event = (...lines: string[]): string[] => ['BEGIN:VEVENT', ...lines, 'END:VEVENT']
const calendar = (method: string, ...events: string[][]): string =>
  ['BEGIN:VCALENDAR', 'VERSION:2.0', `METHOD:${method}`, ...events.flat(), 'END:VCALENDAR'].join('\r\n')
const booking = (sequence: number, ...more: string[]): string =>
  calendar(
    'REQUEST',
    event(
      'UID:u1',
      `SEQUENCE:${sequence}`,
      'DTSTART:20261124T100000Z',
      'DURATION:PT30M',
      'SUMMARY:Ashgrove\\, Aoife: RCT 36',
      ...more,
    ),
  )
const cancel = (sequence: number, ...more: string[]): string =>
  calendar('CANCEL', event('UID:u1', `SEQUENCE:${sequence}`, ...more))

const fhir = (...appointments: object[]): string =>
  JSON.stringify({
    resourceType: 'Bundle',
    type: 'collection',
    entry: [
      {
        resource: {
          resourceType: 'Patient',
          id: 'p1',
          name: [{ family: 'Ashgrove', given: ['Aoife'] }],
          birthDate: '1990-05-01',
        },
      },
      ...appointments.map((resource) => ({ resource })),
    ],
  })
const resource = (status: string, updated: string, more: object = {}) => ({
  resourceType: 'Appointment',
  id: 'a1',
  meta: { lastUpdated: `2026-11-${updated}T08:00:00Z` },
  status,
  participant: [{ actor: { reference: 'Patient/p1' }, status: 'accepted' }],
  ...more,
})
const TIMES = { start: '2026-11-24T10:00:00Z', end: '2026-11-24T10:30:00Z' }

const brought = (...files: string[]) =>
  files.reduce<{ world: World; counts: object }>(({ world }, file) => importFile(world, file), {
    world: smallClinic(),
    counts: {},
  })
const statuses = ({ world }: { world: World }) => world.appointment.map(({ status }) => status)

/** HL7 FHIR R4, Appointment app-3, and RFC 5546 section 3.2.5 (READ): what is cancelled may be without a start. */
describe('a message that ends an appointment by its id and names no time', () => {
  it.each([
    [
      'FHIR, cancelled',
      fhir(resource('booked', '10', TIMES)),
      fhir(resource('cancelled', '11')),
      'cancelled',
    ],
    ['FHIR, no-show', fhir(resource('booked', '10', TIMES)), fhir(resource('noshow', '11')), 'noshow'],
    [
      'FHIR, an error, with a start and no end',
      fhir(resource('booked', '10', TIMES)),
      fhir(resource('entered-in-error', '11', { start: TIMES.start })),
      'entered-in-error',
    ],
    ['iCalendar', booking(0), cancel(1), 'cancelled'],
    ['iCalendar, with a start and no end', booking(0), cancel(1, 'DTSTART:20261124T100000Z'), 'cancelled'],
    [
      'iCalendar, by its status alone',
      booking(0),
      calendar('PUBLISH', event('UID:u1', 'SEQUENCE:1', 'STATUS:CANCELLED')),
      'cancelled',
    ],
  ])('%s', (_, first, second, status) => {
    const ended = brought(first, second)
    expect(statuses(ended)).toEqual([status])
    expect(ended.counts).toMatchObject({ cancelled: 1, problems: 0 })
    expect(ended.world.importProblem).toEqual([])
    expect(importFile(ended.world, second).counts).toMatchObject({ unchanged: 1, problems: 0 })
  })

  it('an older one ends nothing', () => {
    expect(brought(booking(3), cancel(1)).counts).toMatchObject({ older: 1, cancelled: 0 })
    const booked = fhir(resource('booked', '12', TIMES))
    expect(statuses(brought(booked, fhir(resource('cancelled', '11'))))).toEqual(['booked'])
  })

  it('ends each day to come of a series, and one day where it names that', () => {
    const series = booking(0, 'RRULE:FREQ=DAILY;COUNT=3')
    expect(statuses(brought(series, cancel(1)))).toEqual(['cancelled', 'cancelled', 'cancelled'])
    expect(statuses(brought(series, cancel(1, 'RECURRENCE-ID:20261125T100000Z')))).toEqual([
      'booked',
      'cancelled',
      'booked',
    ])
  })

  it('after a booking in the same file leaves nobody booked', () => {
    const both = fhir(resource('booked', '10', TIMES), resource('cancelled', '11'))
    expect(statuses(brought(both)).filter((status) => status === 'booked')).toEqual([])
  })
})

describe('a cancellation that comes before its booking and names no patient', () => {
  it.each([
    ['without a time', cancel(2)],
    ['with its time', cancel(2, 'DTSTART:20261124T100000Z', 'DURATION:PT30M')],
  ])('[import/row-open] %s: is asked, kept, and the booking of before is known as late', (_, file) => {
    const first = brought(file)
    expect(first.counts).toMatchObject({ problems: 1, new: 0 })
    expect(first.world.importProblem).toMatchObject([{ ends: { externalId: 'u1', sequence: 2 } }])
    const late = importFile(first.world, booking(0))
    expect(late.counts).toMatchObject({ older: 1, new: 0, problems: 0 })
    expect(late.world.appointment).toEqual([])
    expect(statuses(brought(file, booking(0), booking(3)))).toEqual(['booked'])
  })

  it('the newest of several counts, also after somebody has put them aside', () => {
    const { world } = brought(cancel(2), cancel(5))
    const aside: World = {
      ...world,
      importProblem: world.importProblem.map((each) => ({
        ...each,
        life: {
          kind: 'settled',
          at: each.ends?.stamp ?? (0 as never),
          by: '' as never,
          appointmentId: null,
          note: 'x',
        },
      })),
    }
    expect(importFile(aside, booking(3)).counts).toMatchObject({ older: 1, new: 0 })
    expect(importFile(aside, booking(6)).counts).toMatchObject({ new: 1 })
  })

  it('also of a series, and of what FHIR gives without a start', () => {
    expect(brought(cancel(2), booking(0, 'RRULE:FREQ=DAILY;COUNT=3')).world.appointment).toEqual([])
    const late = brought(fhir(resource('cancelled', '12')), fhir(resource('booked', '11', TIMES)))
    expect(late.world.appointment).toEqual([])
  })
})

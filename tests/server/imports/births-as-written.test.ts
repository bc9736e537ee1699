import { describe, expect, it } from 'vitest'
import { parseICalendar } from '#server/imports/icalendar.ts'
import { DAY, effect, importFile, OPTIONS, smallClinic } from './small-clinic.ts'

interface Event {
  uid: string
  hour: string
  lines: string[]
  status?: string
}
const calendar = (...events: Event[]): string =>
  [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//quay//EN',
    ...events.flatMap(({ uid, hour, lines, status = 'CONFIRMED' }) => [
      'BEGIN:VEVENT',
      `UID:${uid}`,
      `DTSTAMP:20261123T${status === 'CANCELLED' ? '09' : '08'}0000Z`,
      `DTSTART:20261124T${hour}0000Z`,
      `DTEND:20261124T${hour}3000Z`,
      `STATUS:${status}`,
      'SUMMARY:exam',
      `DESCRIPTION:${lines.join('\\n')}`,
      'END:VEVENT',
    ]),
    'END:VCALENDAR',
    '',
  ].join('\r\n')
const AOIFE = 'Patient: Aoife Ashgrove'

/** Two of one name are told apart by their birth dates: Joint Commission NPSG.01.01.01, two identifiers (READ). */
describe('a birth date in the words of a calendar', () => {
  it.each([
    ['01/05/1990', { dateOrder: 'dmy' as const }],
    ['1 May 1990', {}],
    ['May 1, 1990', {}],
    ['1.5.1990', { dateOrder: 'dmy' as const }],
    ['05/01/1990', { dateOrder: 'mdy' as const }],
    ['1990-05-01', {}],
  ])('%s is the first of May', (born, options) => {
    const { world, counts } = importFile(
      smallClinic(),
      calendar({ uid: 'a', hour: '10', lines: [AOIFE, `DOB: ${born}`] }),
      options,
    )
    expect(counts.problems).toBe(0)
    expect(world.patient.map((patient) => patient.born)).toEqual(['1990-05-01'])
  })

  it('two of one name and two birth dates are two patients', () => {
    const both = calendar(
      { uid: 'a', hour: '10', lines: [AOIFE, 'DOB: 01/05/1990'] },
      { uid: 'b', hour: '11', lines: [AOIFE, 'DOB: 03/07/2019'] },
    )
    const told = importFile(smallClinic(), both, { dateOrder: 'dmy' }).world
    expect(told.patient.map(({ born }) => born).toSorted()).toEqual(['1990-05-01', '2019-07-03'])
    // Neither date says by itself which figure is the month.
    const open = importFile(smallClinic(), both)
    expect(open.world.patient).toEqual([])
    expect(open.world.importProblem.map(({ field, text }) => [field, text.slice(0, 12)])).toEqual([
      ['born', '"01/05/1990"'],
      ['born', '"03/07/2019"'],
    ])
  })

  it('one that allows one order only tells the order of all', () => {
    const { world } = importFile(
      smallClinic(),
      calendar(
        { uid: 'a', hour: '10', lines: [AOIFE, 'DOB: 01/05/1990'] },
        { uid: 'b', hour: '11', lines: ['Patient: Yael Yarrow', 'DOB: 31/07/2019'] },
      ),
    )
    expect(world.patient.map(({ born }) => born).toSorted()).toEqual(['1990-05-01', '2019-07-31'])
  })

  it.each(['31/02/1990', 'May 1990', '01/05/90'])('%s is asked, with its words', (born) => {
    const file = calendar({ uid: 'a', hour: '10', lines: [AOIFE, `DOB: ${born}`] })
    const { world } = importFile(smallClinic(), file, { dateOrder: 'dmy' })
    expect(world.appointment).toEqual([])
    expect(world.importProblem.map(({ field }) => field)).toEqual(['born'])
    expect(world.importProblem[0]?.text).toContain(born)
  })

  it('what calls a visit off is not kept from it', () => {
    const known = calendar({ uid: 'a', hour: '10', lines: [AOIFE, 'DOB: 1990-05-01'] })
    const off = calendar({ uid: 'a', hour: '10', lines: [AOIFE, 'DOB: May 1990'], status: 'CANCELLED' })
    const { counts } = importFile(importFile(smallClinic(), known).world, off)
    expect(counts).toMatchObject({ cancelled: 1, problems: 0 })
  })

  it('the day on which somebody asked for allergies is read, or stays beside the words', () => {
    const said = (asked: string) =>
      parseICalendar(
        Buffer.from(
          calendar({ uid: 'a', hour: '10', lines: [AOIFE, 'Allergies: latex', `Allergies asked: ${asked}`] }),
        ),
        OPTIONS,
      ).allergies[0]
    expect(said('20 Nov 2026')).toMatchObject({ text: 'latex', asked: { day: '2026-11-20' } })
    expect(said('last week')).toMatchObject({ text: 'latex (asked: last week)', asked: null })
  })
})

/** R4, Patient.birthDate (READ): a year, or a year and a month, is allowed. */
describe('a birth date in FHIR that is no day', () => {
  const bundle = (birthDate: string): string =>
    JSON.stringify({
      resourceType: 'Bundle',
      type: 'collection',
      entry: [
        { resource: { resourceType: 'Patient', id: 'p', name: [{ text: 'Aoife Ashgrove' }], birthDate } },
        {
          resource: {
            resourceType: 'Appointment',
            id: 'a',
            status: 'booked',
            start: `${DAY}T10:00:00Z`,
            end: `${DAY}T10:30:00Z`,
            participant: [{ actor: { reference: 'Patient/p' }, status: 'accepted' }],
          },
        },
      ],
    })

  it.each(['1950', '1990-05'])('%s: the visit is taken, the date is asked, once', (birthDate) => {
    const first = importFile(smallClinic(), bundle(birthDate))
    expect(first.world.patient.map(({ born }) => born)).toEqual([null])
    expect(first.world.appointment).toHaveLength(1)
    expect(first.world.importProblem.map(({ field }) => field)).toEqual(['born'])
    expect(first.world.importProblem[0]?.text).toContain(`"${birthDate}"`)
    expect(effect(importFile(first.world, bundle(birthDate)))).toEqual([])
  })

  it('a whole one is a day', () => {
    const { world, counts } = importFile(smallClinic(), bundle('1990-05-01'))
    expect(world.patient.map(({ born }) => born)).toEqual(['1990-05-01'])
    expect(counts.problems).toBe(0)
  })
})

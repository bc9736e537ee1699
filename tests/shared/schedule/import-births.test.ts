import { describe, expect, it } from 'vitest'
import type { World } from '#shared/facts.ts'
import { DAY, effect, importFile, list, row, smallClinic } from '../../server/imports/small-clinic.ts'

interface Comes {
  day?: string
  born: string
}
/** One visit of one patient with an allergy, as each format says it. */
const WRITTEN: Record<string, (comes: Comes) => string> = {
  CSV: ({ day = DAY, born }) => list(row({ day, born, allergies: 'latex' })),
  'a FHIR Bundle': (comes) =>
    JSON.stringify({
      resourceType: 'Bundle',
      type: 'searchset',
      entry: resourcesOf(comes).map((resource) => ({ resource })),
    }),
  NDJSON: (comes) =>
    resourcesOf(comes)
      .map((resource) => JSON.stringify(resource))
      .join('\n'),
  iCalendar: ({ day = DAY, born }) =>
    [
      'BEGIN:VCALENDAR',
      'BEGIN:VEVENT',
      'UID:a',
      `DTSTART:${day.replaceAll('-', '')}T100000Z`,
      'DURATION:PT30M',
      'SUMMARY:Ashgrove\\, Aoife: comp 46 MO',
      `DESCRIPTION:Born: ${born}\\nAllergies: latex`,
      'END:VEVENT',
      'END:VCALENDAR',
    ].join('\r\n'),
}
const resourcesOf = ({ day = DAY, born }: Comes) => [
  { resourceType: 'Patient', id: 'p', name: [{ family: 'Ashgrove', given: ['Aoife'] }], birthDate: born },
  {
    resourceType: 'Appointment',
    id: 'a',
    status: 'booked',
    start: `${day}T10:00:00Z`,
    minutesDuration: 30,
    participant: [{ actor: { reference: 'Patient/p' }, status: 'accepted' }],
  },
  {
    resourceType: 'AllergyIntolerance',
    id: 'l',
    patient: { reference: 'Patient/p' },
    code: { text: 'latex' },
  },
]

const told = (world: World) => [...new Set(world.importProblem.map(({ field }) => field))]

describe.each(Object.entries(WRITTEN))('a birth date in %s', (_, write) => {
  it.each<[string, Comes]>([
    ['tomorrow', { born: '2026-11-25' }],
    ['in a hundred years', { born: '2126-05-01' }],
    ['before the visit, but still to come', { day: '2027-01-10', born: '2026-12-24' }],
    ['after a visit that is past', { day: '2020-03-02', born: '2021-06-07' }],
  ])('[import/row-open] %s is nobody’s: the row is asked', (_when, comes) => {
    const { world, counts } = importFile(smallClinic(), write(comes))
    expect(world.appointment).toEqual([])
    expect(told(world)).toContain('born')
    expect(counts.new).toBe(0)
  })

  it.each<[string, Comes]>([
    ['today', { born: DAY }],
    ['on the day of a visit that is past', { day: '2020-03-02', born: '2020-03-02' }],
  ])('%s is one', (_when, comes) => {
    const { world } = importFile(smallClinic(), write(comes))
    expect(world.patient).toMatchObject([{ born: comes.born }])
    expect(world.appointment).toHaveLength(1)
    expect(told(world)).toEqual([])
  })

  it('still to come is written on no record: neither of one whose date is not known, nor with an allergy', () => {
    const { world } = importFile(smallClinic(), write({ born: '1990-05-01' }))
    const unknown = { ...world, patient: world.patient.map((each) => ({ ...each, born: null })) }
    const after = importFile(unknown, write({ born: '2027-01-01' }))
    expect(after.world.patient).toEqual(unknown.patient)
    expect(after.counts).toMatchObject({ new: 0, changed: 0, vanished: 0 })
    expect(effect(after)).toEqual(['importProblem'])
    expect(after.world.allergyRecord).toEqual(world.allergyRecord)
  })
})

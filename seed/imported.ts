import { must } from '#shared/base/assert.ts'
import { digestOf } from '#shared/base/digest.ts'
import { DEMO_DAY, DEMO_ZONE } from './clinic.ts'
import { BOOKINGS, type Booking } from './day.ts'
import { PEOPLE } from './people.ts'
import { type Ask, momentOf, type Telling } from './telling.ts'

const SOURCE = { name: 'recall list', notation: 'iso', mapping: {}, dateOrder: null } as const
/** The bookings that another system gives us. */
export const IMPORTED: readonly Booking[] = BOOKINGS.filter(({ imported }) => imported === true)

/** A file of that system with these bookings and no others of the day. */
export function importFile({ world }: Telling, bookings: readonly Booking[]): Ask[] {
  const appointments = bookings.map(rowOf)
  return [
    {
      kind: 'appointments.import',
      input: {
        source: { ...SOURCE, id: world.importSource.find(({ name }) => name === SOURCE.name)?.id ?? null },
        file: { name: 'recall.csv', digest: digestOf(appointments), format: 'csv' },
        appointments,
        allergies: [],
        problems: [],
        covers: { days: [DEMO_DAY], operatories: null },
      },
    },
  ]
}

function rowOf(booking: Booking, index: number) {
  const { given, family, born, at, minutes, operatory, work, key } = booking
  const row = {
    line: index + 2,
    externalId: `recall ${key}`,
    recurrenceKey: '',
    sequence: null,
    stamp: null,
    status: 'booked',
    day: DEMO_DAY,
    startsAt: at,
    zone: DEMO_ZONE,
    start: momentOf(DEMO_DAY, at),
    minutes,
    operatory,
    dentist: PEOPLE[booking.who].name,
    patient: { given, family, born, identifiers: [] },
    work: [{ text: work, teeth: [], surfaces: [] }],
    note: '',
  }
  return { ...row, contentHash: digestOf(row) }
}

/** The rows as they were taken: each booking's key now means its appointment. */
export function nameImported(telling: Telling): Ask[] {
  for (const { key } of IMPORTED) {
    const taken = telling.world.appointment.find(({ external }) => external?.externalId === `recall ${key}`)
    telling.bookings.set(key, must(taken, `${key} was imported`).id)
  }
  return []
}

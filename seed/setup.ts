import { must } from '#shared/base/assert.ts'
import { START_LINES } from '#shared/people/clinic.ts'
import { lookAtClamps, ownClamps } from './clamps.ts'
import {
  CLINIC_NAME,
  CLOSES_AT,
  DAY_BEFORE,
  DEMO_DAY,
  DEMO_ZONE,
  OPENS_AT,
  OPERATORIES,
  SETS,
  SITE_NAME,
} from './clinic.ts'
import { BOOKINGS, type Booking, type Known } from './day.ts'
import { IMPORTED, importFile, nameImported } from './imported.ts'
import { FOUNDER, PEOPLE, PERSON_KEYS, type PersonKey } from './people.ts'
import { fillShelf, ownKit } from './shelf.ts'
import { addSteriliser, cycle, measureTurnaround, readSpores } from './sterilising.ts'
import { type Ask, memberOf, operatoryOf, type Step, type Telling } from './telling.ts'

const before = (time: string, by: PersonKey, asks: Step['asks']): Step => ({
  day: DAY_BEFORE,
  time,
  by,
  asks,
})
const siteOf = ({ world }: Telling) => must(world.site[0], 'the clinic has a site').id

const found = (): Ask[] => [
  {
    kind: 'clinic.found',
    input: {
      name: CLINIC_NAME,
      invented: true,
      notation: 'iso',
      site: { name: SITE_NAME, zone: DEMO_ZONE, opensAt: OPENS_AT, closesAt: CLOSES_AT },
      manager: { name: PEOPLE[FOUNDER].name, shortName: PEOPLE[FOUNDER].shortName },
    },
  },
]

const setUp = (telling: Telling): Ask[] => [
  {
    kind: 'site.set',
    input: {
      siteId: siteOf(telling),
      name: SITE_NAME,
      zone: DEMO_ZONE,
      opensAt: OPENS_AT,
      closesAt: CLOSES_AT,
      assistantPlaces: 'allowed',
    },
  },
  ...OPERATORIES.map((operatory) => ({
    kind: 'operatory.add',
    input: { siteId: siteOf(telling), ...operatory },
  })),
  ...PERSON_KEYS.filter((key) => key !== FOUNDER).map((key) => ({
    kind: 'person.add',
    input: { releasesLoads: false, ...PEOPLE[key], roles: [...PEOPLE[key].roles] },
  })),
]

/** Everyone is there all day, with a break at noon that the bookings leave free. */
const rosters = (telling: Telling): Ask[] =>
  PERSON_KEYS.map((key) => ({
    kind: 'roster.set',
    input: {
      memberId: memberOf(telling, key),
      siteId: siteOf(telling),
      day: DEMO_DAY,
      hours: [{ from: '07:00', to: '18:00' }],
    },
  }))

const addSets = (telling: Telling): Ask[] =>
  Object.entries(SETS).flatMap(([kind, count]) =>
    Array.from({ length: count }, (_, index) => ({
      kind: 'set.add',
      input: { kind, mark: `${kind} ${index + 1}`, siteId: siteOf(telling) },
    })),
  )

const book = (telling: Telling, booking: Booking): Ask => ({
  kind: 'appointment.book',
  input: {
    siteId: siteOf(telling),
    day: DEMO_DAY,
    startsAt: booking.at,
    minutes: booking.minutes,
    operatoryId: operatoryOf(telling, booking.operatory),
    dentistId: memberOf(telling, booking.who),
    studentId: booking.student ? memberOf(telling, booking.student) : null,
    patient: {
      kind: 'new',
      given: booking.given,
      family: booking.family,
      born: booking.born,
      guardian: booking.guardian ?? null,
      interpreter: booking.interpreter ?? null,
    },
    work: [booking.work],
    note: booking.note ?? '',
  },
})

/** A booking, and then its key: the newest appointment is the one just made. */
const bookAll = (): Step[] =>
  BOOKINGS.filter(({ imported }) => imported !== true).flatMap((booking) => [
    before('14:00', 'kallas', (telling) => [book(telling, booking)]),
    before('14:00', 'kallas', (telling) => {
      const made = must(telling.world.appointment.at(-1), 'it was booked')
      telling.bookings.set(booking.key, made.id)
      if (booking.interpreter === undefined) return []
      return [{ kind: 'interpreter.book', input: { appointmentId: made.id, who: 'language service' } }]
    }),
  ])

/** What the charts and the papers of earlier visits say. */
const earlier = (telling: Telling, booking: Booking): Ask[] => {
  const appointmentId = telling.bookings.get(booking.key)
  const patientId = must(
    telling.world.appointment.find(({ id }) => id === appointmentId),
    `${booking.key} is booked`,
  ).patientId
  const chart = Object.entries(booking.chart ?? {}).map(([tooth, conditions]) => ({
    kind: 'mouth.chart',
    input: { appointmentId, tooth, conditions },
  }))
  const charted = booking.chart === null ? [] : [{ kind: 'mouth.stand-as-drawn', input: { appointmentId } }]
  const weight = booking.kg
    ? [{ kind: 'patient.weigh', input: { patientId, value: booking.kg, unit: 'kg' } }]
    : []
  return [...chart, ...charted, ...weight, ...allergiesOf(patientId, booking.allergies)]
}

const allergiesOf = (patientId: string, known: Known): Ask[] => {
  const answered = (answer: object): Ask[] => [{ kind: 'allergies.record', input: { patientId, ...answer } }]
  switch (known.kind) {
    case 'not-asked':
      return []
    case 'none':
      return answered({ state: 'none-known', latex: 'none-known' })
    case 'asked-unknown':
      return answered({ state: 'asked-unknown', latex: 'asked-unknown' })
    case 'latex': {
      const { certainty, text } = known
      return answered({
        state: 'listed',
        latex: certainty,
        allergies: [{ substance: 'latex', certainty, severity: 'moderate', text }],
      })
    }
    case 'listed': {
      const { substance, text } = known
      return answered({
        state: 'listed',
        latex: 'none-known',
        allergies: [{ substance, certainty: 'confirmed', severity: 'mild', text }],
      })
    }
  }
}

/** The day before: the clinic, its people, its sets, its bookings. */
export const SETUP: readonly Step[] = [
  before('09:00', FOUNDER, found),
  before('09:05', FOUNDER, setUp),
  before('09:10', FOUNDER, rosters),
  before('09:20', 'zielak', addSteriliser),
  before('09:20', 'zielak', addSets),
  before('09:20', 'zielak', measureTurnaround),
  before('09:30', 'zielak', fillShelf),
  before('09:40', FOUNDER, ownKit),
  before('09:45', FOUNDER, ownClamps),
  before('09:50', 'tornqvist', lookAtClamps),
  ...['10:00', '11:30', '13:00'].flatMap((time, index) =>
    // The second holds the sets for implants, so the week's spore test goes with it.
    cycle({ day: DAY_BEFORE, time, number: `M${index + 1}`, takes: 30, spore: index === 1 }),
  ),
  {
    day: DEMO_DAY,
    time: '07:35',
    by: 'tornqvist',
    asks: (telling) =>
      START_LINES.map((line) => ({
        kind: 'site.look-over',
        input: { siteId: siteOf(telling), line, inOrder: true },
      })),
  },
  readSpores(DEMO_DAY, '08:05'),
  before('13:30', 'kallas', (telling) => importFile(telling, IMPORTED)),
  before('13:30', 'kallas', nameImported),
  ...bookAll(),
  ...BOOKINGS.map((booking) => before('15:00', 'tornqvist', (telling) => earlier(telling, booking))),
]

import { must } from '#shared/base/assert.ts'
import type { Instant } from '#shared/base/moment.ts'
import type { Patient } from '#shared/people/patient.ts'
import { hadDam, isUncounted } from '#shared/readiness/counting.ts'
import type { AppointmentFacts } from '#shared/readiness/day-index.ts'
import { needsDam, needsWord } from '#shared/readiness/gates.ts'
import { workedTeeth } from '#shared/readiness/judges.ts'
import { ROOM_TASKS, type RoomTask } from '#shared/schedule/appointment.ts'
import { hasNameAlert } from '#shared/schedule/name-alert.ts'
import { permittedBy } from '#shared/schedule/seat.ts'
import { DEMO_DAY, DEMO_START } from './clinic.ts'
import { BOOKINGS, type Booking } from './day.ts'
import { aftercare, answerLabel, injection, numbness, planNeedle, readLabel } from './needle.ts'
import type { PersonKey } from './people.ts'
import { cycle } from './sterilising.ts'
import { appointmentOf, laterBy, momentOf, type Step } from './telling.ts'
import { checkTray, claimTray, clearTray, countBack, layOutTray, openTray, pickTray } from './tray-acts.ts'
import { NOT_COMING, SQUEEZED_IN, TROUBLES } from './troubles.ts'
import { type Act, inChair, isAt, ofIt, where } from './where.ts'

export const DEMO_MOMENT: Instant = momentOf(DEMO_DAY, DEMO_START)

const ASSISTANTS = ['tornqvist', 'saleh', 'petrescu', 'amaral'] as const satisfies readonly PersonKey[]

const arrive: Act = (telling, booking) => (NOT_COMING.has(booking.key) ? [] : comeIn(telling, booking))
const comeIn = where(isAt('expected'), ofIt('appointment.arrive'))
const accompany = where(isAt('arrived'), ({ patient }) => [
  ...(patient?.guardian
    ? [{ kind: 'companion.record', input: { patientId: patient.id, companion: { kind: 'guardian' } } }]
    : []),
  ...(patient?.interpreter
    ? [
        {
          kind: 'companion.record',
          input: { patientId: patient.id, companion: { kind: 'interpreter', who: 'professional' } },
        },
      ]
    : []),
])
/** Whoever was never asked is asked at the desk. */
const askAllergies = where(
  (facts) => isAt('arrived')(facts) && (facts.allergies === null || facts.allergies.state === 'not-asked'),
  ({ patient }) => [
    {
      kind: 'allergies.record',
      input: {
        patientId: must(patient, 'someone is here').id,
        state: 'none-known',
        latex: 'none-known',
      },
    },
  ],
)
const answersOf = ({ given, family, born }: Patient) => ({ name: `${given} ${family}`, born })
const identify = where(isAt('arrived'), (facts, { world }) => [
  {
    kind: 'visit.identify',
    input: {
      appointmentId: facts.appointment.id,
      identifiers: ['full-name', 'birth-day'],
      how: hasNameAlert(world, facts.appointment) ? 'typed' : 'asked',
      said: answersOf(must(facts.patient, 'someone is here')),
    },
  },
])
const seat = where(isAt('arrived'), ofIt('visit.seat'))
const confirmHistory = where(inChair, ({ patient }) => [
  { kind: 'history.confirm', input: { patientId: must(patient, 'someone is in the chair').id } },
])
const consent = where(
  (facts) => inChair(facts) && facts.patient?.guardian != null && permittedBy(facts.work).length > 0,
  (facts) => [
    {
      kind: 'consent.record',
      input: {
        appointmentId: facts.appointment.id,
        text: 'signed by the guardian on the day',
        teeth: workedTeeth(facts),
      },
    },
  ],
)
const readBack = where(
  (facts) => inChair(facts) && workedTeeth(facts).length > 0,
  (facts) => [
    {
      kind: 'visit.read-back',
      input: {
        appointmentId: facts.appointment.id,
        teeth: workedTeeth(facts),
        planNumber: facts.plan?.number ?? 0,
      },
    },
  ],
)
const isStudents = (facts: AppointmentFacts): boolean => facts.appointment.studentId !== null
const propose = where(
  (facts) => inChair(facts) && needsWord(facts.plan) && isStudents(facts),
  (facts) => ofIt('word.propose', { number: facts.plan?.number })(facts),
)
const giveWord = where(
  (facts) =>
    inChair(facts) && needsWord(facts.plan) && !facts.words.some((word) => word.life.kind === 'live'),
  (facts) => ofIt('word.give', { number: facts.plan?.number })(facts),
)
const withDam = (facts: AppointmentFacts): boolean => inChair(facts) && needsDam(facts.plan)
const countBefore = where(withDam, ofIt('teeth.recount', { when: 'before' }))
const countThrough = where(withDam, ofIt('teeth.recount', { when: 'through' }))
const clamp = where(withDam, ofIt('visit.clamp', { tied: true }))
const place = where(withDam, (facts) => {
  const sheets = must(facts.plan, 'a dam is planned').agreed.sheets
  return [
    {
      kind: 'dam.placed',
      input: {
        appointmentId: facts.appointment.id,
        planNumber: facts.plan?.number,
        sheets: sheets.map(({ field, clamps }) => ({ field, clamps, sequence: 'clamp-first' })),
        tied: true,
        inspected: true,
        bow: 'back',
        minutes: 2,
        outcome: { leak: false, tear: false, retries: 0, gum: 'sound' },
      },
    },
  ]
})
const timeOut = where(
  (facts) => inChair(facts) && workedTeeth(facts).length > 0,
  (facts) =>
    ofIt('time-out.done', {
      patientId: facts.patient?.id,
      teeth: workedTeeth(facts),
      number: facts.plan?.number ?? 0,
    })(facts),
)
const start = where(inChair, ofIt('visit.start'))
const finish = where(isAt('started'), ofIt('visit.finish'))
const removeDam = where(
  (facts) => facts.asPlaced.length > 0,
  (facts) => {
    const sheets = must(facts.plan, 'a dam was planned').agreed.sheets
    const septa = (sheet: (typeof sheets)[number]): number =>
      Math.max(0, sheet.holes.length - 1 - (sheet.slit.length > 0 ? 1 : 0))
    return ofIt('dam.removed', {
      holesWhole: sheets.reduce((sum, { holes }) => sum + holes.length, 0),
      septaCut: sheets.reduce((sum, sheet) => sum + septa(sheet), 0),
      clamps: sheets.reduce((sum, { clamps }) => sum + clamps.length, 0),
      ligaturesIn: 1,
      ligatures: 1,
      sheetPieces: sheets.length,
      fragment: 'none-missing',
      gum: 'sound',
      needles: facts.doses.length > 0 ? 1 : 0,
      files: 0,
      blades: 0,
    })(facts)
  },
)
/** Where no sheet was, the needle is counted all the same. */
const countOut = where(
  (facts) => isUncounted(facts) && !hadDam(facts),
  (facts) => ofIt('visit.count', { needles: facts.doses.length > 0 ? 1 : 0, files: 0, blades: 0 })(facts),
)
const leave = where(isAt('finished'), ofIt('visit.leave'))

/** Ticks off what is left of the room; all five at the end make it clear. */
const turnOver =
  (tasks: readonly RoomTask[]): Act =>
  (telling, booking) => {
    const { operatoryId } = appointmentOf(telling, booking.key)
    const room = telling.world.occupancy.find((each) => each.operatoryId === operatoryId)
    return room?.life.kind === 'turning-over'
      ? [{ kind: 'room.turn-over', input: { operatoryId, tasks } }]
      : []
  }

/** Everything is done in the minute in which it usually is, counted from the booked start or from the booked end. */
type Usual = [
  minutes: number,
  from: 'start' | 'end',
  by: 'desk' | 'assistant' | 'second' | 'dentist' | 'chief',
  act: Act,
]

const USUAL: readonly Usual[] = [
  [-50, 'start', 'chief', planNeedle],
  [-40, 'start', 'assistant', claimTray],
  [-15, 'start', 'assistant', pickTray],
  [-13, 'start', 'assistant', layOutTray],
  [-11, 'start', 'second', checkTray],
  [-7, 'start', 'desk', arrive],
  [-6, 'start', 'desk', accompany],
  [-5, 'start', 'desk', askAllergies],
  [-1, 'start', 'assistant', identify],
  [0, 'start', 'assistant', seat],
  [1, 'start', 'assistant', openTray],
  [1, 'start', 'assistant', confirmHistory],
  [1, 'start', 'assistant', consent],
  [3, 'start', 'dentist', readBack],
  [3, 'start', 'dentist', propose],
  [3, 'start', 'chief', giveWord],
  [4, 'start', 'assistant', readLabel],
  [4, 'start', 'dentist', answerLabel],
  [4, 'start', 'dentist', injection],
  [6, 'start', 'assistant', countBefore],
  [11, 'start', 'chief', giveWord],
  [11, 'start', 'assistant', numbness],
  [12, 'start', 'assistant', clamp],
  [12, 'start', 'assistant', place],
  [13, 'start', 'assistant', countThrough],
  [13, 'start', 'chief', giveWord],
  [14, 'start', 'chief', timeOut],
  [14, 'start', 'dentist', start],
  [-9, 'end', 'dentist', finish],
  [-8, 'end', 'assistant', removeDam],
  [-8, 'end', 'assistant', countOut],
  [-7, 'end', 'assistant', countBack],
  [-7, 'end', 'assistant', aftercare],
  [-6, 'end', 'assistant', leave],
  [-5, 'end', 'assistant', clearTray],
  [-4, 'end', 'assistant', turnOver(['barriers', 'suction', 'water-air'])],
  [0, 'end', 'assistant', turnOver(ROOM_TASKS)],
]

/** Lateness moves what is done with the patient, not the tray that was ready before. */
const delayOf = ({ late = 0 }: Booking, { minutes, from }: { minutes: number; from: Usual[1] }): number =>
  from === 'start' && minutes >= -1 ? late : 0

const usualDay = (booking: Booking, index: number): Step[] => {
  const people = {
    desk: index % 2 === 0 ? 'kallas' : 'whelan',
    assistant: must(ASSISTANTS[index % 4], 'there are four'),
    second: must(ASSISTANTS[(index + 1) % 4], 'there are four'),
    dentist: booking.student ?? booking.who,
    chief: booking.who,
  } as const
  const end = laterBy(booking.at, booking.minutes)
  return USUAL.map(([minutes, from, by, act]) => ({
    day: DEMO_DAY,
    time: laterBy(from === 'start' ? booking.at : end, minutes + delayOf(booking, { minutes, from })),
    by: people[by],
    asks: (telling) => act(telling, booking),
  }))
}

/** The steriliser runs all day, as soon as the one before is out. */
const CYCLES = [
  '08:55',
  '09:35',
  '10:15',
  '10:55',
  '11:35',
  '12:15',
  '12:55',
  '13:35',
  '14:15',
  '14:55',
  '15:35',
  '16:15',
]
const sterilising = CYCLES.flatMap((time, index) =>
  cycle({ day: DEMO_DAY, time, number: `T${index + 1}`, takes: 30 }),
)

export const DAY: readonly Step[] = [
  ...sterilising,
  ...TROUBLES,
  ...[...BOOKINGS, SQUEEZED_IN].flatMap(usualDay),
]

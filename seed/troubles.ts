import { must } from '#shared/base/assert.ts'
import { findFact } from '#shared/facts.ts'
import { DEMO_DAY } from './clinic.ts'
import { BOOKINGS, type Booking } from './day.ts'
import { IMPORTED, importFile } from './imported.ts'
import { planNeedle } from './needle.ts'
import type { PersonKey } from './people.ts'
import { type Ask, appointmentOf, memberOf, operatoryOf, type Step, type Telling } from './telling.ts'
import { checkTray, claimTray, layOutTray, linesOf, pickTray } from './tray-acts.ts'

const at = (time: string, by: PersonKey, asks: Step['asks']): Step => ({ day: DEMO_DAY, time, by, asks })
const booking = (key: string): Booking =>
  must(
    BOOKINGS.find((each) => each.key === key),
    `${key} is booked`,
  )
const onIt =
  (key: string, kind: string, more: object = {}) =>
  (telling: Telling): Ask[] => [{ kind, input: { appointmentId: appointmentOf(telling, key).id, ...more } }]

/** What the dentist says the work is, once they have looked. */
const nameWork =
  (key: string, named: object) =>
  (telling: Telling): Ask[] => {
    const { id } = appointmentOf(telling, key)
    const work = must(
      telling.world.work.find((each) => each.appointmentId === id),
      `${key} has work`,
    )
    return [{ kind: 'work.name', input: { appointmentId: id, workId: work.id, settles: true, ...named } }]
  }

/** 31 in one count is a front tooth, in the other a molar; the words say molar. Asked, until the dentist has said. */
const AMBIGUOUS: readonly Step[] = [
  at('09:00', 'feher', nameWork('Milan Kovar', { kind: 'root-canal', teeth: ['47'] })),
  at('09:01', 'feher', (telling) => planNeedle(telling, booking('Milan Kovar'))),
]

const trayOf = ({ world, bookings }: Telling, key: string) =>
  must(
    world.tray.find((tray) => tray.appointmentId === bookings.get(key)),
    `${key} has a tray`,
  )

const swapGloves =
  (name: string, latex: 'contains' | 'free') =>
  (telling: Telling): Ask[] => {
    const tray = trayOf(telling, 'Oskar Lindahl')
    const gloves = must(
      linesOf(tray, telling.world).find(({ item }) => item === 'gloves'),
      'every tray has gloves',
    )
    return [{ kind: 'tray.swap', input: { trayId: tray.id, lineId: gloves.id, name, contents: { latex } } }]
  }
const onTrayOf =
  (key: string, act: typeof pickTray) =>
  (telling: Telling): Ask[] =>
    act(telling, booking(key))

/** Latex gloves were put on the tray of a patient whose latex allergy is confirmed; they are swapped in time. */
const LATEX: readonly Step[] = [
  at('08:36', 'petrescu', swapGloves('latex gloves', 'contains')),
  at('08:36', 'petrescu', onTrayOf('Oskar Lindahl', pickAgain)),
  at('08:45', 'saleh', swapGloves('nitrile gloves', 'free')),
  at('08:46', 'saleh', onTrayOf('Oskar Lindahl', pickAgain)),
  at('08:46', 'saleh', onTrayOf('Oskar Lindahl', checkTray)),
]

/** A laid-out tray with one line new. */
function pickAgain(telling: Telling, { key }: Booking): Ask[] {
  const tray = trayOf(telling, key)
  return linesOf(tray, telling.world)
    .filter((line) => line.tick === null && line.packKind === null)
    .map((line) => ({
      kind: 'tray.tick',
      input: { trayId: tray.id, lineId: line.id, inspected: true, stockLineId: null },
    }))
}

/** The word was given early; then the patient tells of a blocked nose, and it lapses. */
const LAPSED: readonly Step[] = [
  at('10:30', 'corrigan', (telling) => {
    const { id } = appointmentOf(telling, 'Helga Strand')
    const number = telling.world.plan.find((plan) => plan.appointmentId === id)?.number
    return [{ kind: 'word.give', input: { appointmentId: id, number } }]
  }),
  at('10:44', 'saleh', (telling) => [
    {
      kind: 'history.confirm',
      input: {
        patientId: appointmentOf(telling, 'Helga Strand').patientId,
        added: ['takes a blood thinner since last month'],
      },
    },
  ]),
]

/** The other system no longer lists one of its bookings and did not cancel it; the desk asks, and keeps it. */
const VANISHED: readonly Step[] = [
  at('08:30', 'whelan', (telling) =>
    importFile(
      telling,
      IMPORTED.filter(({ key }) => key !== 'Colm Brady'),
    ),
  ),
  at('10:20', 'whelan', onIt('Colm Brady', 'appointment.keep')),
]

/** A broken tooth could be anything: no plan is invented until the dentist has looked at the picture sent ahead. */
const BROKEN: readonly Step[] = [
  at('12:10', 'feher', nameWork('Joan Kilbride', { kind: 'root-canal', teeth: ['16'] })),
  at('12:11', 'feher', (telling) => planNeedle(telling, booking('Joan Kilbride'))),
]

/** A wet pack is found on a tray that was ready: it is held, and another laid out. */
const HELD_PACK: readonly Step[] = [
  at('14:11', 'zielak', (telling) => {
    const line = linesOf(trayOf(telling, 'Annika Lund'), telling.world).find(
      ({ packKind }) => packKind === 'composite-set',
    )
    const pack = must(findFact(telling.world, 'pack', line?.packId ?? null), 'its set is on the tray')
    return [{ kind: 'pack.hold', input: { packId: pack.id, why: 'wet' } }]
  }),
  at('14:14', 'amaral', onTrayOf('Annika Lund', claimTray)),
  at('14:15', 'amaral', onTrayOf('Annika Lund', pickTray)),
  at('14:15', 'amaral', onTrayOf('Annika Lund', layOutTray)),
  at('14:16', 'petrescu', onTrayOf('Annika Lund', checkTray)),
]

/** An emergency is squeezed in over another booking, seen as a clash, moved and accepted. */
export const SQUEEZED_IN: Booking = {
  key: 'Rory Penhale',
  operatory: '3',
  at: '17:00',
  minutes: 30,
  who: 'feher',
  given: 'Rory',
  family: 'Penhale',
  born: '1984-08-19',
  work: 'emergency exam',
  allergies: { kind: 'not-asked' },
  chart: null,
}
const EMERGENCY: readonly Step[] = [
  at('15:05', 'kallas', (telling) => [
    {
      kind: 'appointment.book',
      input: {
        siteId: must(telling.world.site[0], 'there is a site').id,
        day: DEMO_DAY,
        startsAt: '16:20',
        minutes: SQUEEZED_IN.minutes,
        operatoryId: operatoryOf(telling, '4'),
        dentistId: memberOf(telling, 'feher'),
        patient: {
          kind: 'new',
          given: SQUEEZED_IN.given,
          family: SQUEEZED_IN.family,
          born: SQUEEZED_IN.born,
        },
        work: [SQUEEZED_IN.work],
        emergency: true,
      },
    },
  ]),
  at('15:05', 'kallas', (telling) => {
    telling.bookings.set(SQUEEZED_IN.key, must(telling.world.appointment.at(-1), 'it was booked').id)
    return []
  }),
  at('15:12', 'kallas', (telling) =>
    onIt(SQUEEZED_IN.key, 'appointment.change', {
      startsAt: SQUEEZED_IN.at,
      operatoryId: operatoryOf(telling, SQUEEZED_IN.operatory),
    })(telling),
  ),
  at('15:15', 'saleh', onIt(SQUEEZED_IN.key, 'appointment.accept')),
]

/** One patient does not come; the desk phones, then says so, and the tray goes back. */
const NOT_COME: readonly Step[] = [at('15:22', 'kallas', onIt('Lorcan Hayes', 'appointment.no-show'))]
export const NOT_COMING: ReadonlySet<string> = new Set(['Lorcan Hayes'])

/** The patient does not know of any allergy; the dentist decides for this visit, and says why. */
const UNSURE: readonly Step[] = [
  at('15:03', 'corrigan', (telling) =>
    onIt('Ruairi Moss', 'rule.override', {
      rule: 'allergies/answer-unknown',
      about: `patient:${appointmentOf(telling, 'Ruairi Moss').patientId}`,
      reason: 'a look only: nothing is given, gloves and all else are without latex',
    })(telling),
  ),
]

/** Someone says the side looks wrong. It is not; it is kept all the same, and the word is given again. */
const STOPPED: readonly Step[] = [
  at('14:20', 'tornqvist', onIt('Petra Vidal', 'stop.check-side')),
  at('14:21', 'feher', onIt('Petra Vidal', 'stop.clear', { outcome: 'nothing-wrong' })),
]

export const TROUBLES: readonly Step[] = [
  ...AMBIGUOUS,
  ...LATEX,
  ...LAPSED,
  ...VANISHED,
  ...BROKEN,
  ...HELD_PACK,
  ...EMERGENCY,
  ...NOT_COME,
  ...UNSURE,
  ...STOPPED,
]

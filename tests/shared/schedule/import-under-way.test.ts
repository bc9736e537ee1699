import { describe, expect, it } from 'vitest'
import { must } from '#shared/base/assert.ts'
import { type Instant, instant } from '#shared/base/moment.ts'
import type { World } from '#shared/facts.ts'
import type { IncidentId } from '#shared/ids.ts'
import type { Appointment, Incident, Visit } from '#shared/schedule/appointment.ts'
import { leaveChair, makeVisit, reach } from '#shared/schedule/visit.ts'
import { DESK, importFile, list, MORNING, row, smallClinic } from '../../server/imports/small-clinic.ts'

type Here = Pick<World, 'visit' | 'dose' | 'incident'>

const BOOKED = importFile(
  smallClinic(),
  list(row(), row({ id: 'z', start: '16:00', patient: 'Yarrow, Wanda' })),
)
const APPOINTMENT = must(BOOKED.world.appointment[0], 'an appointment')
const { clinicId, id: appointmentId, patientId } = APPOINTMENT
const at = (minutes: number): Instant => instant(MORNING + minutes * 60_000)
const moment = (minutes: number) => ({ now: at(minutes), by: DESK })

/** A visit through these stages, a minute each; `back`: out of the chair again. */
function visited(...stages: (Visit['stage'] | 'back')[]): Pick<World, 'visit'> {
  const newId = <Id>(): Id => 'visit' as Id
  const visit = stages.reduce(
    (so, stage, minute) =>
      stage === 'back' ? leaveChair(so, moment(minute)) : reach(so, stage, moment(minute)),
    makeVisit(appointmentId, { clinicId, newId, ...moment(0) }),
  )
  return { visit: [visit] }
}
const dosed = (): Pick<World, 'dose'> => ({
  dose: [
    {
      clinicId,
      id: 'dose' as never,
      appointmentId,
      patientId,
      agent: 'lidocaine',
      milliPercent: 2000,
      vasoconstrictor: 'epinephrine',
      ratio: 80_000,
      cartridge: 1_800 as never,
      technique: 'block',
      tooth: '46',
      side: 'right',
      tenthsOfCartridge: 10,
      by: DESK.id,
      at: at(3),
    },
  ],
})
const called = (more: Partial<Incident> = {}): Pick<World, 'incident'> => ({
  incident: [
    {
      clinicId,
      id: 'incident' as IncidentId,
      appointmentId,
      operatoryId: null,
      kind: 'collapse',
      at: at(3),
      by: DESK.id,
      drill: false,
      steps: [],
      life: { kind: 'open' },
      ...more,
    },
  ],
})

const arrived = { status: 'arrived' } as const
/** The clinic with this visit as it stands. */
const clinicWith = (here: Partial<Here>, now: Partial<Appointment> = arrived): World => ({
  ...BOOKED.world,
  ...here,
  appointment: BOOKED.world.appointment.map((each) =>
    each.id === appointmentId ? { ...each, ...now } : each,
  ),
})

const OTHER = row({ id: 'z', start: '16:00', patient: 'Yarrow, Wanda' })
const LISTS: [says: string, file: string][] = [
  ['cancels it', list(row({ status: 'cancelled' }), OTHER)],
  ['moves it to another hour', list(row({ start: '15:00' }), OTHER)],
  ['moves it to another day', list(row({ day: '2026-11-25' }), OTHER)],
  ['moves it to another operatory', list(row({ operatory: '7' }), OTHER)],
  [
    'puts another patient in its place',
    list(row({ patient: 'Fennimore, Farid', born: '1971-01-01' }), OTHER),
  ],
  ['says that nobody came', list(row({ status: 'noshow' }), OTHER)],
]

const STATES: [who: string, world: World, words: RegExp][] = [
  [
    'sits in the chair',
    clinicWith(visited('arrived', 'seated'), { status: 'checked-in' }),
    /is in the chair/,
  ],
  [
    'is back in the waiting room after a dose',
    clinicWith({ ...visited('arrived', 'seated', 'back'), ...dosed() }),
    /work has begun; its patient is out of the chair/,
  ],
  [
    'is out of the chair with the work begun and paused',
    clinicWith(visited('arrived', 'seated', 'injected', 'clamped', 'started', 'back')),
    /work has begun; its patient is out of the chair/,
  ],
  [
    'waits while help is called for them',
    clinicWith({ ...visited('arrived'), ...called() }),
    /a stop or help is called/,
  ],
  [
    'waits while somebody has said “Stop, check side”',
    clinicWith({ ...visited('arrived'), ...called({ kind: 'stop-check-side' }) }),
    /a stop or help is called/,
  ],
  [
    'has left',
    clinicWith(visited('arrived', 'seated', 'started', 'finished', 'left'), { status: 'fulfilled' }),
    /has been here and has left/,
  ],
]

describe.each(STATES)('a patient who %s', (_, world, words) => {
  it.each(LISTS)('[import/row-open] stays as they are where a list %s; the row is asked', (_, file) => {
    const after = importFile(world, file)
    expect(after.world.appointment).toEqual(world.appointment)
    expect(after.world.importProblem).toMatchObject([{ field: 'status', life: { kind: 'open' } }])
    expect(after.world.importProblem[0]?.text).toMatch(words)
    expect(after.findings.map(({ rule }) => rule)).toEqual(['import/row-open'])
    expect(after.counts).toMatchObject({ cancelled: 0, changed: 0, vanished: 0 })
  })

  it('has not vanished where a list leaves them out', () => {
    const after = importFile(world, list(OTHER))
    expect(after.counts.vanished).toBe(0)
    expect(after.world.appointment).toEqual(world.appointment)
  })

  it('is no further and no less far than known here, whatever the list says of coming', () => {
    for (const status of ['booked', 'arrived', 'checked-in']) {
      const after = importFile(world, list(row({ status, minutes: '45' }), OTHER))
      const [known] = world.appointment
      expect(after.world.appointment[0]).toMatchObject({ status: known?.status, minutes: 45 })
    }
  })
})

it('only who has left is said to have left, and only who sits is said to be in the chair', () => {
  const asked = STATES.map(([, world]) => importFile(world, list(row({ status: 'cancelled' }), OTHER)))
  const said = asked.map((after) => after.world.importProblem[0]?.text ?? '')
  expect(said.map((text) => /is in the chair/.test(text))).toEqual([true, false, false, false, false, false])
  expect(said.map((text) => /has left/.test(text))).toEqual([false, false, false, false, false, true])
  // The desk settles such rows: nothing clinical is told.
  for (const text of said) expect(text).not.toMatch(/numb|dose|inject|anaesth|clamp|tooth|collapse/i)
})

it.each<[string, World]>([
  ['only waits', clinicWith(visited('arrived'))],
  ['sat down and went back with nothing done', clinicWith(visited('arrived', 'seated', 'back'))],
  ['waits while a drill is held', clinicWith({ ...visited('arrived'), ...called({ drill: true }) })],
  [
    'was helped, and the call is closed',
    clinicWith({
      ...visited('arrived'),
      ...called({ life: { kind: 'closed', at: at(9), by: DESK.id, outcome: 'settled' } }),
    }),
  ],
])('a patient who %s is moved or cancelled as the list says', (_, world) => {
  expect(importFile(world, list(row({ start: '15:00' }), OTHER)).world.appointment[0]).toMatchObject({
    startsAt: '15:00',
    status: 'arrived',
  })
  expect(importFile(world, list(row({ status: 'cancelled' }), OTHER)).counts.cancelled).toBe(1)
})

it('a cancelled series leaves the visit that is under way', () => {
  const series = (more: string[]): string =>
    [
      'BEGIN:VCALENDAR',
      'BEGIN:VEVENT',
      'UID:series',
      'DTSTAMP:20261120T080000Z',
      'DTSTART:20261124T090000Z',
      'DURATION:PT30M',
      'RRULE:FREQ=DAILY;COUNT=3',
      'SUMMARY:Ashgrove\\, Aoife: RCT 36',
      ...more,
      'END:VEVENT',
      'END:VCALENDAR',
    ].join('\r\n')
  const window = { from: '2026-11-24', to: '2027-01-23' }
  const { world } = importFile(smallClinic(), series([]), { window })
  const today = must(world.appointment[0], 'the first of three')
  const visit = visited('arrived', 'seated', 'back').visit.map((each) => ({
    ...each,
    appointmentId: today.id,
  }))
  const dose = dosed().dose.map((each) => ({ ...each, appointmentId: today.id }))
  const after = importFile({ ...world, visit, dose }, series(['STATUS:CANCELLED', 'SEQUENCE:1']), { window })
  expect(after.world.appointment.map(({ status }) => status)).toEqual(['booked', 'cancelled', 'cancelled'])
  expect(after.world.importProblem.map(({ text }) => text)).toEqual([
    expect.stringMatching(/work has begun; its patient is out of the chair/),
  ])
})

import fc from 'fast-check'
import type { Performed } from '#server/commands/performed.ts'
import type { World } from '#shared/facts.ts'
import type { MemberId } from '#shared/ids.ts'
import { GUIDE_PARTS, STEP_NAMES } from '#shared/isolation/guide-facts.ts'
import { ROLES } from '#shared/people/role.ts'
import { addOperatory, type TestClinic } from './clinic.ts'

/** Something a person may ask, before it is known what stands: `pick` chooses among what there is. */
export interface Act {
  kind: keyof typeof ASKS
  pick: number
  other: number
}

const DAYS = ['2026-11-24', '2026-11-25']
const TIMES = ['09:00', '09:30', '10:15', '11:00', '14:20', '16:45']
const WORK = [
  'RCT 36',
  'comp 46 MO',
  'fissure sealants 16 26',
  'exam',
  'extraction 28',
  'broken tooth UR',
  'comp 11',
]
const TEETH = ['36', '37', '46', '47', '16', '26']
const CONDITIONS = [['missing'], ['present'], ['unerupted'], ['metal-crown'], []]
const LATEX = ['asked-unknown', 'none-known', 'suspected', 'confirmed']
const BORN = ['1990-04-02', '2015-06-30', '1948-01-17', null]

type Ask = (found: {
  world: World
  act: Act
  clinic: TestClinic
  revision: number
}) => { kind: string; input: unknown } | null

const one = <T>(list: readonly T[], pick: number): T | undefined =>
  list.length === 0 ? undefined : list[pick % list.length]

const onAppointment =
  (kind: string, more: (act: Act, world: World, id: string) => object = () => ({})): Ask =>
  ({ world, act }) => {
    const appointment = one(world.appointment, act.pick)
    return appointment
      ? { kind, input: { appointmentId: appointment.id, ...more(act, world, appointment.id) } }
      : null
  }
const onTray =
  (kind: string, more: object = {}): Ask =>
  ({ world, act }) => {
    const tray = one(world.tray, act.pick)
    return tray ? { kind, input: { trayId: tray.id, ...more } } : null
  }

const ASKS = {
  book: ({ world, act, clinic }) => {
    const known = act.other % 3 === 0 ? one(world.patient, act.pick) : undefined
    return {
      kind: 'appointment.book',
      input: {
        siteId: clinic.siteId,
        day: one(DAYS, act.other),
        startsAt: one(TIMES, act.pick),
        minutes: 30,
        operatoryId: one(world.operatory, act.pick)?.id ?? null,
        dentistId: one(world.member, act.other)?.id ?? null,
        patient: known
          ? { kind: 'known', id: known.id }
          : { kind: 'new', given: 'Ada', family: `Kerr ${act.pick}`, born: one(BORN, act.other) },
        work: [one(WORK, act.pick), ...(act.other % 4 === 0 ? [one(WORK, act.other)] : [])],
      },
    }
  },
  move: onAppointment('appointment.change', (act) => ({
    day: one(DAYS, act.other),
    startsAt: one(TIMES, act.other),
  })),
  otherRoom: onAppointment('appointment.change', (act, world) => ({
    operatoryId: act.other % 5 === 0 ? null : one(world.operatory, act.other)?.id,
  })),
  otherDentist: onAppointment('appointment.change', (act, world) => ({
    dentistId: one(world.member, act.other)?.id,
  })),
  away: ({ world, act, clinic }) => {
    const member = one(world.member, act.pick)
    const day = one(DAYS, act.other)
    const theirs = world.appointment.filter((each) => each.dentistId === member?.id && each.day === day)
    const handOver = theirs.map(({ id }) => ({
      appointmentId: id,
      dentistId: one(world.member, act.other)?.id ?? null,
    }))
    const when = { day, from: one(TIMES, act.other), to: '23:59' }
    return {
      kind: 'person.away',
      input: { memberId: member?.id, siteId: clinic.siteId, ...when, handOver },
    }
  },
  told: onAppointment('patient.called'),
  cancel: onAppointment('appointment.cancel'),
  noShow: onAppointment('appointment.no-show'),
  arrive: onAppointment('appointment.arrive'),
  chart: onAppointment('mouth.chart', (act) => ({
    tooth: one(TEETH, act.other),
    conditions: one(CONDITIONS, act.other),
  })),
  standAsDrawn: onAppointment('mouth.stand-as-drawn'),
  giveWord: onAppointment('word.give', (_act, world, id) => ({
    number: world.plan.find((plan) => plan.appointmentId === id)?.number ?? 1,
  })),
  step: onAppointment('guide.tick', (act, world, id) => ({
    planNumber: world.plan.find((plan) => plan.appointmentId === id)?.number ?? 1,
    part: one(GUIDE_PARTS, act.other),
    sheet: 1,
    step: one(STEP_NAMES, act.other),
    done: act.other % 4 !== 0,
    at: act.pick,
  })),
  withdrawWord: onAppointment('word.withdraw'),
  stop: onAppointment('stop.check-side'),
  clearStop: onAppointment('stop.clear', () => ({ outcome: 'nothing-wrong' })),
  allergies: ({ world, act }) => {
    const patient = one(world.patient, act.pick)
    return patient
      ? {
          kind: 'allergies.record',
          input: { patientId: patient.id, state: 'none-known', latex: one(LATEX, act.other) },
        }
      : null
  },
  claim: onTray('tray.claim'),
  letGo: onTray('tray.let-go'),
  tick: ({ world, act }) => {
    const line = one(world.trayLine, act.pick)
    return line
      ? { kind: 'tray.tick', input: { trayId: line.trayId, lineId: line.id, inspected: true } }
      : null
  },
  undo: ({ act, revision }) => ({ kind: 'journal.undo', input: { revision: revision - (act.other % 3) } }),
  closeRoom: ({ clinic, act }) => ({
    kind: 'operatory.add',
    input: {
      siteId: clinic.siteId,
      name: `Room ${act.pick}`,
      kind: 'surgery',
      latexSafe: act.other % 2 === 0,
    },
  }),
} satisfies Record<string, Ask>

const KINDS = Object.keys(ASKS) as Act['kind'][]

const act: fc.Arbitrary<Act> = fc.record({
  // Bookings come often enough that the others find something to act on.
  kind: fc.oneof(fc.constant<Act['kind']>('book'), fc.constantFrom(...KINDS), fc.constantFrom(...KINDS)),
  pick: fc.nat(40),
  other: fc.nat(40),
})
/** Random histories of real commands. */
export const histories: fc.Arbitrary<Act[]> = fc.array(act, { minLength: 3, maxLength: 14 })

/** A clinic with two operatories and people who may do everything, so that the rules decide and not the roles. */
export async function furnish(clinic: TestClinic): Promise<MemberId> {
  await addOperatory(clinic, 'One')
  await addOperatory(clinic, 'Two')
  for (const name of ['First', 'Second']) {
    await clinic.done('person.add', { name, shortName: name, roles: [...ROLES] })
  }
  const { member } = await clinic.world()
  return member.find(({ name }) => name === 'First')?.id ?? clinic.manager
}

/** What came of one act, with the world before it. */
export interface Told {
  act: Act
  before: World
  performed: Performed
}

/** Plays a history, each act on what stands by then. An act that finds nothing to act on is left out. */
export async function play(
  clinic: TestClinic,
  { by, acts, after }: { by: MemberId; acts: readonly Act[]; after?: (told: Told) => Promise<void> },
): Promise<Told[]> {
  const played: Told[] = []
  let revision = 1
  for (const each of acts) {
    const before = await clinic.world()
    const ask: Ask = ASKS[each.kind]
    const asked = ask({ world: before, act: each, clinic, revision })
    if (asked === null) continue
    const performed = await clinic.perform(asked.kind, asked.input, { by })
    if (!performed.refused) revision = performed.revision
    const told = { act: each, before, performed }
    played.push(told)
    await after?.(told)
  }
  return played
}

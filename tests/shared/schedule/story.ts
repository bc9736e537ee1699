import { expect } from 'vitest'
import { DEMO_DAY, DEMO_ZONE } from '#seed/clinic.ts'
import { PEOPLE, type PersonKey } from '#seed/people.ts'
import { decideTold, INVENTED_FOUNDER, idOf } from '#seed/run.ts'
import { momentOf } from '#seed/telling.ts'
import { must } from '#shared/base/assert.ts'
import { applyChange } from '#shared/change.ts'
import type { Decision } from '#shared/command.ts'
import { emptyWorld, type World } from '#shared/facts.ts'
import type { AppointmentId, MemberId, OperatoryId, PatientId, SiteId } from '#shared/ids.ts'
import type { Appointment, Visit } from '#shared/schedule/appointment.ts'

/** A small clinic told by commands: two rooms, a few people, one day. */
export interface Story {
  world: () => World
  /** Asks, and applies what comes of it. `HH:MM` of the story's day. */
  ask: (by: PersonKey, kind: string, input: object, time?: string) => Decision
  /** Asks what must not be refused. */
  does: (by: PersonKey, kind: string, input: object, time?: string) => void
  /** The rules that refuse it; empty where it is done. */
  refusals: (by: PersonKey, kind: string, input: object, time?: string) => string[]
  member: (key: PersonKey) => MemberId
  room: (name: string) => OperatoryId
  site: () => SiteId
  book: (more?: object) => AppointmentId
  appointment: (id: AppointmentId) => Appointment
  visit: (id: AppointmentId) => Visit
}

const HERE: readonly PersonKey[] = ['kallas', 'corrigan', 'brandt', 'larbi', 'tornqvist', 'zielak']

export function openStory({ invented = true } = {}): Story {
  let world = emptyWorld()
  let made = 0
  const member = (key: PersonKey): MemberId =>
    world.member.find(({ name }) => name === PEOPLE[key].name)?.id ?? INVENTED_FOUNDER
  const ask: Story['ask'] = (by, kind, input, time = '08:00') => {
    const told = { kind, input, by: member(by), at: momentOf(DEMO_DAY, time), station: 'test' }
    const decision = decideTold(world, told, () => idOf(`story ${made++}`))
    if (decision.ok) world = applyChange(world, decision.value.change)
    return decision
  }
  const refusals: Story['refusals'] = (...asked) => {
    const decision = ask(...asked)
    return decision.ok ? [] : [...new Set(decision.reasons.map(({ rule }) => rule))]
  }
  const does: Story['does'] = (...asked) => expect(refusals(...asked)).toEqual([])
  const site = (): SiteId => must(world.site[0], 'there is a site').id
  const room = (name: string): OperatoryId =>
    must(
      world.operatory.find((operatory) => operatory.name === name),
      `there is a room ${name}`,
    ).id
  const story: Story = {
    world: () => world,
    ask,
    does,
    refusals,
    member,
    room,
    site,
    book: (more = {}) => {
      does('kallas', 'appointment.book', {
        siteId: site(),
        day: DEMO_DAY,
        startsAt: '09:00',
        minutes: 40,
        operatoryId: room('1'),
        dentistId: member('corrigan'),
        patient: { kind: 'new', given: 'Ann', family: 'Byrne', born: '1980-02-03' },
        work: ['check-up'],
        ...more,
      })
      return must(world.appointment.at(-1), 'it was booked').id
    },
    appointment: (id) =>
      must(
        world.appointment.find((each) => each.id === id),
        'it is booked',
      ),
    visit: (id) =>
      must(
        world.visit.find(({ appointmentId }) => appointmentId === id),
        'the patient came',
      ),
  }
  found(story, invented)
  return story
}

function found({ does, site }: Story, invented: boolean): void {
  const hours = { zone: DEMO_ZONE, opensAt: '08:00', closesAt: '17:30' }
  const { name, shortName } = PEOPLE.vasarely
  const clinic = { name: 'A clinic', invented, notation: 'iso' }
  does('vasarely', 'clinic.found', {
    ...clinic,
    site: { name: 'A site', ...hours },
    manager: { name, shortName },
  })
  for (const key of HERE) does('vasarely', 'person.add', { releasesLoads: false, ...PEOPLE[key] })
  for (const room of ['1', '2']) {
    does('vasarely', 'operatory.add', { siteId: site(), name: room, kind: 'surgery', latexSafe: false })
  }
}

export const patientOf = (story: Story, id: AppointmentId): PatientId => story.appointment(id).patientId

/** A patient who is arrived, known and asked about allergies, and whose tray is ready. */
export function comesIn(story: Story, id: AppointmentId, time = '08:55'): void {
  const { does, world } = story
  const patientId = patientOf(story, id)
  does('kallas', 'appointment.arrive', { appointmentId: id }, time)
  does('kallas', 'allergies.record', { patientId, state: 'none-known', latex: 'none-known' }, time)
  const tray = world().tray.find(({ appointmentId }) => appointmentId === id)
  if (tray) {
    const { id: trayId } = tray
    does('tornqvist', 'tray.claim', { trayId }, time)
    for (const line of world().trayLine.filter((each) => each.trayId === trayId)) {
      const one = { trayId, lineId: line.id }
      if (line.packKind === null) does('tornqvist', 'tray.tick', { ...one, inspected: true }, time)
      else does('corrigan', 'tray.omit', { ...one, reason: 'not in this test' }, time)
    }
    does('tornqvist', 'tray.lay-out', { trayId }, time)
    does('tornqvist', 'tray.check', { trayId }, time)
  }
}

/** Full name and birth day as the patient of this appointment answers them. */
export function answers(story: Story, id: AppointmentId) {
  const patient = must(
    story.world().patient.find((each) => each.id === patientOf(story, id)),
    'the appointment has a patient',
  )
  const said = { name: `${patient.given} ${patient.family}`, born: patient.born }
  return { appointmentId: id, identifiers: ['full-name', 'birth-day'], said }
}

export const identified = (story: Story, id: AppointmentId, time = '08:58'): void =>
  story.does('tornqvist', 'visit.identify', { ...answers(story, id), how: 'typed' }, time)

/** The tray opened at the chair; what came in packs was left out of it. */
export function openTray({ does, world }: Story, id: AppointmentId, time = '09:01'): void {
  const tray = must(
    world().tray.find(({ appointmentId }) => appointmentId === id),
    'the appointment has a tray',
  )
  does('tornqvist', 'tray.open', { trayId: tray.id, looked: [] }, time)
}

/** A patient in the chair. */
export function seated(story: Story, id: AppointmentId): void {
  comesIn(story, id)
  identified(story, id)
  story.does('tornqvist', 'visit.seat', { appointmentId: id }, '09:00')
}

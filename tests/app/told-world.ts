import { must } from '#shared/base/assert.ts'
import { addMinutes, type Day, dayOf, type Instant, instant, type Zone } from '#shared/base/moment.ts'
import { applyChange } from '#shared/change.ts'
import { decide, findCommandRule } from '#shared/decide.ts'
import { emptyWorld, type World } from '#shared/facts.ts'
import type { AppointmentId, ClinicId, MemberId } from '#shared/ids.ts'
import type { Member } from '#shared/people/clinic.ts'

/** A small invented clinic in memory, told as commands through the house's own `decide`. */
export const AT: Instant = instant(Date.UTC(2026, 10, 24, 8, 40))
export const DAY = '2026-11-24' as Day
export const ZONE = 'Europe/Dublin' as Zone
const CLINIC = '00000000-0000-4000-8000-00000000c000' as ClinicId

export interface Teller {
  world: () => World
  /** Performs a command as a person by short name, so many minutes after 08:40; throws what refuses it. */
  tell: (kind: string, input: unknown, by?: string, minutes?: number) => void
  /** The same, where a refusal is expected: the rules that refused. */
  refused: (kind: string, input: unknown, by?: string, minutes?: number) => string[]
  member: (shortName: string) => Member
  appointmentOf: (family: string) => AppointmentId
}

export function openTeller(): Teller {
  let world = emptyWorld()
  let made = 0
  const newId = <Id>(): Id => {
    made += 1
    return `00000000-0000-4000-8000-${String(made).padStart(12, '0')}` as Id
  }
  const founder: Member = {
    clinicId: CLINIC,
    id: newId<MemberId>(),
    name: 'Nora Quill',
    shortName: 'N. Quill',
    roles: ['manager'],
    active: true,
    releasesLoads: false,
    drawsFirst: null,
  }
  const member = (shortName: string): Member =>
    world.member.find((each) => each.shortName === shortName) ??
    must(shortName === founder.shortName ? founder : undefined, `${shortName} works here`)
  const perform = (kind: string, input: unknown, by: string, minutes: number) => {
    const rule = must(findCommandRule(kind), `${kind} is a command`)
    const now = addMinutes(AT, minutes)
    return decide(
      world,
      { kind, input: rule.input.parse(input) },
      {
        clinicId: CLINIC,
        now,
        today: dayOf(now, ZONE),
        by: member(by),
        station: 'test',
        newId,
        journal: null,
      },
    )
  }
  return {
    world: () => world,
    member,
    tell(kind, input, by = founder.shortName, minutes = 0) {
      const decision = perform(kind, input, by, minutes)
      if (!decision.ok) throw new Error(`${kind} was refused: ${JSON.stringify(decision.reasons)}`)
      world = applyChange(world, decision.value.change)
    },
    refused(kind, input, by = founder.shortName, minutes = 0) {
      const decision = perform(kind, input, by, minutes)
      return decision.ok ? [] : decision.reasons.map((finding) => finding.rule)
    },
    appointmentOf: (family) => {
      const patient = must(
        world.patient.find((each) => each.family === family),
        `${family} is known`,
      )
      return must(
        world.appointment.find((each) => each.patientId === patient.id),
        `${family} is booked`,
      ).id
    },
  }
}

const OPERATORIES = ['Operatory 1', 'Operatory 2', 'Operatory 3']
const PEOPLE = [
  { name: 'Ines Farrow', shortName: 'Dr Farrow', roles: ['dentist'] },
  { name: 'Mara Silva', shortName: 'M. Silva', roles: ['assistant'] },
  { name: 'Peter Okafor', shortName: 'P. Okafor', roles: ['assistant'] },
  { name: 'Ruth Hart', shortName: 'R. Hart', roles: ['front-desk'] },
]
const BOOKED: [
  family: string,
  given: string,
  born: string,
  startsAt: string,
  operatory: number,
  work: string[],
][] = [
  ['Keane', 'Aoife', '1992-02-12', '09:40', 0, ['comp 46 MO']],
  ['Moran', 'Jude', '1985-06-01', '09:00', 1, ['fissure sealants 16 17']],
  ['Abara', 'Sola', '2018-03-09', '10:00', 2, ['pulpotomy 85']],
  ['Castle', 'Max', '1993-09-21', '10:30', 1, ['RCT 36']],
]

/** The clinic with its people, rooms and four appointments, each with its plan and tray. */
export function tellClinic(): Teller {
  const teller = openTeller()
  teller.tell('clinic.found', {
    name: 'Harbour Lane Shared Clinic',
    invented: true,
    notation: 'iso',
    site: { name: 'Harbour Lane', zone: ZONE, opensAt: '08:00', closesAt: '18:00' },
    manager: { name: 'Nora Quill', shortName: 'N. Quill' },
  })
  const site = must(teller.world().site[0], 'the clinic has a site')
  for (const name of OPERATORIES) {
    teller.tell('operatory.add', { siteId: site.id, name, kind: 'surgery', latexSafe: false })
  }
  for (const person of PEOPLE) teller.tell('person.add', person)
  for (const [family, given, born, startsAt, operatory, work] of BOOKED) {
    teller.tell('appointment.book', {
      siteId: site.id,
      day: DAY,
      startsAt,
      minutes: 45,
      operatoryId: teller.world().operatory[operatory]?.id,
      dentistId: teller.member('Dr Farrow').id,
      patient: { kind: 'new', given, family, born },
      work,
    })
  }
  return teller
}

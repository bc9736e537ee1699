import { must } from '#shared/base/assert.ts'
import { type ClockTime, type Day, dayOf, type Instant } from '#shared/base/moment.ts'
import { applyChange, type Change } from '#shared/change.ts'
import { emptyWorld, findFact, type World } from '#shared/facts.ts'
import type { AppointmentId, MemberId, OperatoryId, PatientId } from '#shared/ids.ts'
import type { Appointment } from '#shared/schedule/appointment.ts'
import { localInstant } from '#shared/schedule/local-time.ts'
import { DEMO_ZONE } from './clinic.ts'
import { PEOPLE, type PersonKey } from './people.ts'

/** One command of the story: who asks it, when, where. */
export interface Told {
  kind: string
  input: unknown
  by: MemberId
  at: Instant
  station: string
}

/** Performs a told command and gives the change it made; a refusal is a fault of the story and throws. */
export type Perform = (told: Told) => Promise<Change>

/** What someone asks; the rest is filled in by the step that holds it. */
export interface Ask {
  kind: string
  input: unknown
}

/** A moment of the story. What is asked may depend on how the world stands then. */
export interface Step {
  day: Day
  /** Local clock time, `HH:MM`. */
  time: string
  by: PersonKey
  asks: (telling: Telling) => Ask[]
}

/** The world as the story has left it so far, and who and what its keys mean. */
export interface Telling {
  world: World
  founder: MemberId
  bookings: Map<string, AppointmentId>
}

export const startTelling = (founder: MemberId): Telling => ({
  world: emptyWorld(),
  founder,
  bookings: new Map(),
})

export const momentOf = (day: Day, time: string): Instant => {
  const found = localInstant(day, time as ClockTime, DEMO_ZONE)
  if (!found.ok) throw new Error(`Bug: ${day} ${time} does not exist`)
  return found.value
}

/** `HH:MM` so many minutes later on the same day. */
export function laterBy(time: string, minutes: number): string {
  const total = Number(time.slice(0, 2)) * 60 + Number(time.slice(3)) + minutes
  const two = (part: number): string => String(part).padStart(2, '0')
  return `${two(Math.floor(total / 60))}:${two(total % 60)}`
}

export function memberOf(telling: Telling, key: PersonKey): MemberId {
  const { name } = PEOPLE[key]
  const member = telling.world.member.find((each) => each.name === name)
  return member?.id ?? telling.founder
}

export const operatoryOf = ({ world }: Telling, name: string): OperatoryId =>
  must(
    world.operatory.find((operatory) => operatory.name === name),
    `there is an operatory ${name}`,
  ).id

export const appointmentOf = ({ world, bookings }: Telling, key: string): Appointment =>
  must(findFact(world, 'appointment', bookings.get(key) ?? null), `${key} is booked`)
export const patientOf = (telling: Telling, key: string): PatientId => appointmentOf(telling, key).patientId

/** Tells one step: its commands in order, each on the world the one before has left. */
export async function tell(telling: Telling, step: Step, perform: Perform): Promise<void> {
  for (const { kind, input } of step.asks(telling)) {
    const by = memberOf(telling, step.by)
    const told: Told = { kind, input, by, at: momentOf(step.day, step.time), station: 'invented' }
    telling.world = applyChange(telling.world, await perform(told))
  }
}

/** Steps in the order in which they happen; those of one minute keep the order they were written in. */
export const inOrder = (steps: readonly Step[]): Step[] =>
  [...steps].sort((a, b) => momentOf(a.day, a.time) - momentOf(b.day, b.time))

export const localDayOf = (at: Instant): Day => dayOf(at, DEMO_ZONE)

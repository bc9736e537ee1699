import { addMinutes, type Instant, type Minutes, minutesBetween } from '../base/moment.ts'
import type { PolicySet } from '../people/policy-set.ts'
import type { ScheduleFinding } from './findings.ts'

/** One appointment as far as lateness goes. Times it has already reached are facts, not forecasts. */
export interface Slot {
  id: string
  operatoryId: string | null
  /** Who treats: a person is in one chair at a time. Null: shared or not known. */
  personId: string | null
  start: Instant
  minutes: Minutes
  /** When the patient was seated; null while they wait. */
  seated: Instant | null
  /** When the chair was left; null until then. */
  left: Instant | null
}

export interface Pace {
  now: Instant
  turnoverMinutes: Minutes
}

/**
 * When each appointment can really start. It waits for its booked time, for now, for its room with the turnover
 * done, and for its dentist. Lateness is passed on in order of booking; a gap swallows it. Spreading the result
 * again changes nothing.
 */
export function spreadDelay(slots: readonly Slot[], { now, turnoverMinutes }: Pace): Map<string, Instant> {
  const expected = new Map<string, Instant>()
  const roomFree = new Map<string, Instant>()
  const personFree = new Map<string, Instant>()
  for (const slot of [...slots].sort(inOrder)) {
    const start = startOf(slot, {
      now,
      room: roomFree.get(slot.operatoryId ?? ''),
      person: personFree.get(slot.personId ?? ''),
    })
    const end = endOfSlot(slot, { start, now })
    expected.set(slot.id, start)
    if (slot.operatoryId !== null) keepLater(roomFree, slot.operatoryId, addMinutes(end, turnoverMinutes))
    if (slot.personId !== null) keepLater(personFree, slot.personId, end)
  }
  return expected
}

/** Those who have left or sit come before those who wait; then by booked time, then by id. */
const inOrder = (a: Slot, b: Slot): number =>
  standing(a) - standing(b) || a.start - b.start || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0)
const standing = (slot: Slot): number => (slot.left !== null ? 0 : slot.seated !== null ? 1 : 2)

interface Waits {
  now: Instant
  room: Instant | undefined
  person: Instant | undefined
}
function startOf(slot: Slot, { now, room, person }: Waits): Instant {
  if (slot.seated !== null) return slot.seated
  return later(slot.start, now, room, person)
}

/** Who has left is out; who sits past their time leaves no sooner than now. */
function endOfSlot(slot: Slot, { start, now }: { start: Instant; now: Instant }): Instant {
  if (slot.left !== null) return slot.left
  const end = addMinutes(start, slot.minutes)
  return slot.seated !== null ? later(end, now) : end
}

const later = (first: Instant, ...others: (Instant | undefined)[]): Instant =>
  others.reduce<Instant>((latest, at) => (at !== undefined && at > latest ? at : latest), first)
const keepLater = (map: Map<string, Instant>, key: string, at: Instant): void => {
  map.set(key, later(at, map.get(key)))
}

/** Minutes between booked and expected start: a line of words from the amber limit on, a task for the desk from the prompt on. */
export function judgeLate(
  booked: { id: string; start: Instant; expected: Instant },
  { lateAmberMinutes, latePromptMinutes }: PolicySet['schedule'],
): ScheduleFinding[] {
  const minutes = minutesBetween(booked.start, booked.expected)
  if (minutes < lateAmberMinutes) return []
  const prompt = minutes >= latePromptMinutes
  return [{ rule: 'day/running-late', level: 'note', about: `appointment:${booked.id}`, minutes, prompt }]
}

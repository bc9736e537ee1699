import { addMinutes, clockTimeAfter, type Instant, instant, minutesBetween } from '../base/moment.ts'
import { CHECKS, type Check, GATES, type Gate } from '../base/rule.ts'
import type { Finding } from '../finding.ts'
import { RULES } from '../rules.ts'
import { type Appointment, hasReached, ROOM_TASKS } from '../schedule/appointment.ts'
import { isQuiet } from '../trays/lifecycle.ts'
import { expectedStartOf } from './around.ts'
import type { Plank, PlankState, ReadinessState } from './board-types.ts'
import type { AppointmentFacts, DayIndex } from './day-index.ts'
import { gatesOf, isAtGate, isGateBefore, needsDam, needsWord, nextGate, stageOf } from './gates.ts'
import type { Sight } from './judges.ts'
import { isForLater, isStep, STEP_MINUTES } from './steps.ts'

/** How grave one open finding is for the next gate. */
type Weight = 'hold' | 'ask' | 'preparing' | 'later' | 'none'
const WEIGHTS: readonly Weight[] = ['hold', 'ask', 'preparing', 'later', 'none']

interface Weighed {
  finding: Finding
  weight: Weight
  by: Instant | null
}

/** The gate before which a finding must be answered; where that gate is not on the way, the next one that is. */
export function gateOf(finding: Finding, facts: AppointmentFacts): Gate | null {
  const { gate } = RULES[finding.rule]
  if (gate === null) return null
  const from = GATES.indexOf(gate)
  return gatesOf(facts).find((next) => GATES.indexOf(next) >= from) ?? null
}

/**
 * A stop holds. An ask is an Ask before its gate and a Hold at it or beyond. A step of the visit keeps quiet
 * before its gate, is preparing at it, and an Ask once it is overdue.
 */
export function weigh(finding: Finding, { facts, now }: Sight): Weighed {
  const by = stepBy(finding, facts)
  const of = (weight: Weight): Weighed => ({ finding, weight, by })
  if (finding.level === 'note') return of(isForLater(finding.rule) ? 'later' : 'none')
  const gate = gateOf(finding, facts)
  const next = nextGate(facts)
  const due = gate !== null && next !== null && !isGateBefore(next, gate)
  if (isStep(finding.rule)) {
    if ((gate !== null && !due) || stageOf(facts) === 'expected') return of('later')
    return of(by !== null && now > by ? 'ask' : 'preparing')
  }
  if (finding.level === 'stop') return of('hold')
  return of(due && isAtGate(facts, next, now) ? 'hold' : 'ask')
}

/** Nothing is overdue before the booked start, however early the patient came, nor leaving while work goes on. */
function stepBy(finding: Finding, { visit, appointment }: AppointmentFacts): Instant | null {
  const minutes = STEP_MINUTES[finding.rule]
  if (minutes === undefined || !visit || visit.stage === 'started') return null
  return addMinutes(instant(Math.max(visit.since, appointment.start)), minutes)
}

/** Six planks, bottom to top, each with the gravest thing that lies on it. */
export function layPlanks(sight: Sight, open: readonly Finding[]): Plank[] {
  const gravest = findGravest(askForTheWordAlone(open.map((finding) => weigh(finding, sight))))
  return CHECKS.map((check) => layPlank(check, sight, gravest[check] ?? null))
}

/** On each plank the first of the gravest. */
function findGravest(weighed: readonly Weighed[]): Partial<Record<Check, Weighed>> {
  const found: Partial<Record<Check, Weighed>> = {}
  for (const each of weighed) {
    const { check } = RULES[each.finding.rule]
    if (check === null) continue
    const known = found[check]
    if (!known || isGraver(each, known)) found[check] = each
  }
  return found
}

const isGraver = (one: Weighed, other: Weighed): boolean =>
  WEIGHTS.indexOf(one.weight) < WEIGHTS.indexOf(other.weight)

/** The word of the dentist asks for itself when nothing else is left to do at its gate; nothing is drawn up before it. */
function askForTheWordAlone(weighed: Weighed[]): Weighed[] {
  const left = weighed.filter(
    ({ weight, finding }) => weight === 'preparing' && finding.rule !== 'cartridge/not-read-back',
  )
  const [only] = left
  if (left.length !== 1 || only?.finding.rule !== 'word/missing') return weighed
  return weighed.map((each) => (each === only ? { ...each, weight: 'ask' } : each))
}

function layPlank(check: Check, sight: Sight, gravest: Weighed | null): Plank {
  const bare = barePlank(check, sight)
  if (gravest === null) return bare
  if (gravest.weight === 'none') return { ...bare, finding: bare.finding ?? gravest.finding }
  if (gravest.weight === 'later' && !leavesPlankOpen(gravest.finding, bare)) return bare
  return { ...bare, state: worse(gravest.weight, bare.state), ...partOf(gravest, sight, bare) }
}

/** What is not due yet leaves a plank as it is, except a plan that waits for chart or word, and where the plank would be not needed. */
const leavesPlankOpen = ({ rule }: Finding, bare: Plank): boolean =>
  rule === 'word/missing' || rule === 'plan/uncharted' || isForLater(rule) || bare.state === 'not-needed'

const ORDER: readonly PlankState[] = ['hold', 'ask', 'preparing']
const worse = (weight: Exclude<Weight, 'none'>, state: PlankState): PlankState =>
  ORDER.includes(state) && (!ORDER.includes(weight) || ORDER.indexOf(state) < ORDER.indexOf(weight))
    ? state
    : weight

function partOf({ finding, by }: Weighed, { facts }: Sight, bare: Plank): Partial<Plank> {
  const { next } = RULES[finding.rule]
  const owner = next === 'dentist' || next === 'instructor' ? facts.appointment.dentistId : bare.owner
  return { finding, next, owner, by: by ?? bare.by }
}

const plank = (check: Check, state: PlankState, more: Partial<Plank> = {}): Plank => ({
  check,
  state,
  done: 0,
  of: 0,
  finding: null,
  next: null,
  owner: null,
  by: null,
  ...more,
})

/** A plank as the work on it stands, before any finding is laid on it. */
function barePlank(check: Check, sight: Sight): Plank {
  const { facts } = sight
  switch (check) {
    case 'patient':
      return plank(check, stageOf(facts) === 'expected' ? 'later' : 'ready')
    case 'room':
      return roomPlank(sight)
    case 'tray':
      return trayPlank(sight)
    case 'allergies':
      return plank(check, 'ready')
    case 'numbness':
      return plank(check, numbnessState(facts))
    case 'plan':
      return plank(check, needsWord(facts.plan) ? 'ready' : 'not-needed')
  }
}

const ROOM_DONE = ROOM_TASKS.length

function roomPlank(sight: Sight): Plank {
  const { facts, day } = sight
  const { appointment, occupancy } = facts
  if (hasReached(stageOf(facts), 'seated')) return plank('room', 'ready')
  const waits = { next: 'assistant', by: appointment.start } as const
  if (!occupancy) return plank('room', 'preparing', waits)
  const busy = findEarlier(facts, day) ?? findElsewhere(sight)
  if (busy !== null) return plank('room', 'preparing', { ...waits, finding: busy })
  if (occupancy.life.kind === 'clear') return plank('room', 'ready')
  if (occupancy.life.kind === 'occupied') return plank('room', 'preparing', waits)
  return plank('room', 'preparing', { ...waits, done: occupancy.life.done.length, of: ROOM_DONE })
}

/** The appointment before this one in the same operatory that has not left it. */
function findEarlier({ appointment, policy }: AppointmentFacts, day: DayIndex): Finding | null {
  const lane = appointment.operatoryId === null ? [] : (day.ofOperatory.get(appointment.operatoryId) ?? [])
  const earlier = lane.findLast(
    (other) =>
      other.day === appointment.day &&
      other.start < appointment.start &&
      day.visits.get(other.id)?.stage !== 'left',
  )
  if (!earlier) return null
  const turnover = policy?.schedule.turnoverMinutes ?? 0
  return {
    rule: 'room/not-free',
    level: 'note',
    about: `appointment:${appointment.id}`,
    until: clockTimeAfter(earlier.startsAt, earlier.minutes + turnover),
  }
}

/** Whoever treats sits at another chair longer than until this start. */
function findElsewhere({ facts, day, now }: Sight): Finding | null {
  const { appointment } = facts
  const untilAbout = expectedStartOf(day, appointment, now)
  if (untilAbout <= appointment.start || untilAbout <= now) return null
  const isThere = (other: Appointment): boolean => {
    const stage = day.visits.get(other.id)?.stage ?? 'expected'
    return other.id !== appointment.id && hasReached(stage, 'seated') && stage !== 'left'
  }
  const theirs = appointment.studentId
    ? day.ofStudent.get(appointment.studentId)
    : day.ofDentist.get(appointment.dentistId ?? '')
  if (!theirs?.some(isThere)) return null
  return {
    rule: 'people/not-free',
    level: 'note',
    about: `appointment:${appointment.id}`,
    until: clockTimeAfter(appointment.startsAt, minutesBetween(appointment.start, untilAbout)),
  }
}

function trayPlank({ facts, now }: Sight): Plank {
  const { tray, appointment, policy } = facts
  if (tray === null) return plank('tray', 'not-needed')
  const by = addMinutes(appointment.start, -(policy?.trays.layOutMinutes ?? 0))
  const share = { done: tray.done, of: tray.of, by, next: 'assistant' } as const
  switch (tray.life.kind) {
    case 'needed':
      return plank('tray', 'preparing', share)
    case 'claimed':
      // Quiet for too long: anyone may claim it, so nobody is named.
      return plank(
        'tray',
        'preparing',
        isQuiet(tray, policy, now) ? share : { ...share, owner: tray.life.by },
      )
    case 'laid-out':
      return plank('tray', 'preparing', { ...share, owner: tray.life.by })
    case 'held':
      return plank('tray', 'hold', share)
    default:
      return plank('tray', 'ready')
  }
}

/** Numbness cannot be in place before the patient is seated, nor before the needle where one is expected. */
function numbnessState(facts: AppointmentFacts): PlankState {
  if (!gatesOf(facts).includes('inject') && !needsDam(facts.plan)) return 'not-needed'
  const next = nextGate(facts)
  return next === 'seat' || next === 'inject' ? 'later' : 'ready'
}

const WORST_FIRST: readonly ReadinessState[] = ['hold', 'ask', 'preparing']

/** The worst plank decides; what is later or not needed does not count. */
export const stateOf = (planks: readonly Plank[]): ReadinessState =>
  WORST_FIRST.find((state) => planks.some((each) => each.state === state)) ?? 'ready'

/** Of the planks that decide, one that lies under a stop before the others; else the first, bottom to top. */
export function findMissing(planks: readonly Plank[]): Plank | null {
  const state = stateOf(planks)
  if (state === 'ready') return null
  const deciding = planks.filter((each) => each.state === state)
  return (
    deciding.find(({ finding }) => finding?.level === 'stop') ??
    deciding.find(({ finding }) => finding === null || !NAMED_LAST.has(finding.rule)) ??
    deciding[0] ??
    null
  )
}
/** Time alone mends the first two, and a label is read last of all: what somebody can do now is named before them. */
const NAMED_LAST: ReadonlySet<Finding['rule']> = new Set([
  'room/not-free',
  'people/not-free',
  'cartridge/not-read-back',
])

import { must } from '../base/assert.ts'
import type { Day, Instant } from '../base/moment.ts'
import type { World } from '../facts.ts'
import type { SiteId } from '../ids.ts'
import type { Operatory } from '../people/clinic.ts'
import type { Appointment, Occupancy } from '../schedule/appointment.ts'
import { hasReached } from '../schedule/appointment.ts'
import type { Board, BoardLine, Lane } from './board-types.ts'
import { type DayIndex, indexDay, stands } from './day-index.ts'
import { judgeAppointment } from './readiness.ts'

export interface BoardAsked {
  siteId: SiteId
  day: Day
  now: Instant
}

/** The day of one site as its operatories stand at a moment: one lane each, by position. */
export function boardFor(world: World, asked: BoardAsked): Board {
  const index = indexDay(world)
  const standing = world.appointment
    .filter((each) => each.siteId === asked.siteId && each.day === asked.day && stands(each))
    .sort((a, b) => a.start - b.start)
  const lines = standing.map((appointment) => lineOf(index, appointment, asked.now))
  const linesOf = groupByOperatory(lines)
  return {
    siteId: asked.siteId,
    day: asked.day,
    at: asked.now,
    lanes: world.operatory
      .filter((operatory) => operatory.siteId === asked.siteId && isShown(operatory, linesOf))
      .sort((a, b) => a.position - b.position)
      .map((operatory) => laneOf(index, operatory, linesOf.get(operatory.id) ?? [])),
    unplaced: linesOf.get(null) ?? [],
  }
}

type LinesOf = Map<BoardLine['operatoryId'], BoardLine[]>

function groupByOperatory(lines: readonly BoardLine[]): LinesOf {
  const linesOf: LinesOf = new Map()
  for (const line of lines) {
    const here = linesOf.get(line.operatoryId)
    if (here) here.push(line)
    else linesOf.set(line.operatoryId, [line])
  }
  return linesOf
}

/** A retired operatory has its lane on the days on which someone was there. */
const isShown = ({ id, retiredAt }: Operatory, linesOf: LinesOf): boolean =>
  (retiredAt ?? null) === null || linesOf.has(id)

const lineOf = (index: DayIndex, appointment: Appointment, now: Instant): BoardLine =>
  must(judgeAppointment(index, appointment.id, now), 'an appointment of this world can be judged').line

const isInChair = (line: BoardLine): boolean => hasReached(line.stage, 'seated') && line.stage !== 'left'

const roomOf = (life: Occupancy['life'] | null): Lane['room'] =>
  life === null
    ? { kind: 'closed', since: null, done: [] }
    : { kind: life.kind, since: life.since, done: life.kind === 'turning-over' ? life.done : [] }

function laneOf(index: DayIndex, operatory: Operatory, lines: readonly BoardLine[]): Lane {
  const life = index.occupancies.get(operatory.id)?.life ?? null
  const here = lines.filter((line) => line.stage !== 'left')
  const occupant = life?.kind === 'occupied' ? life.appointmentId : null
  const now = here.find((line) => line.appointmentId === occupant) ?? here.find(isInChair) ?? null
  const next = here.filter((line) => line !== now)
  return {
    operatoryId: operatory.id,
    name: operatory.name,
    position: operatory.position,
    kind: operatory.kind,
    dentistId: (now ?? next[0])?.dentistId ?? null,
    room: roomOf(life),
    now,
    next,
  }
}

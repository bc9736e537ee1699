import type { Check } from '../base/rule.ts'
import type { Audience } from '../people/role.ts'
import type {
  Board,
  BoardLine,
  JudgedBoard,
  JudgedLane,
  JudgedLine,
  Lane,
  Plank,
} from '../readiness/board-types.ts'
import { deskTaskOf } from '../readiness/desk-task.ts'
import { ACTOR_WORDS, sayState, WAITS_FOR_DENTIST } from './en/states.ts'
import { sayToDesk } from './en.ts'

/** An audience whose screen may hold no clinical fact. */
export type JudgedAudience = Exclude<Audience, 'clinical'>

/**
 * A board for a screen that may hold no clinical fact: judged here, its sentences said. The desk is given tasks,
 * what is to be done but not on which tooth, and the three planks that are its own as they stand; the wall is given an operatory, a time and Ready or Not yet, and
 * whether someone in the chair waits for the dentist.
 */
export const judgedFor = (board: Board, audience: JudgedAudience): JudgedBoard => {
  const judge = audience === 'desk' ? deskLine : wallLine
  return {
    siteId: board.siteId,
    day: board.day,
    at: board.at,
    lanes: board.lanes.map((lane) => judgedLane(lane, judge, audience)),
    unplaced: audience === 'desk' ? board.unplaced.map(judge) : [],
  }
}

type JudgeLine = (line: BoardLine) => JudgedLine

const judgedLane = (lane: Lane, judge: JudgeLine, audience: JudgedAudience): JudgedLane => ({
  ...lane,
  dentistId: audience === 'desk' ? lane.dentistId : null,
  now: lane.now && judge(lane.now),
  next: lane.next.map(judge),
})

const THE_DESKS_OWN: ReadonlySet<Check> = new Set(['patient', 'room', 'tray'])

/** A clinical plank tells the desk that work is left, never what. */
function deskPlank({ finding: _, ...plank }: Plank): JudgedLine['planks'][number] {
  if (THE_DESKS_OWN.has(plank.check) || (plank.state !== 'ask' && plank.state !== 'hold')) return plank
  return { ...plank, state: 'preparing', owner: null, by: null }
}

/** What is to be done by its name, never where; words that nobody could read stand as they were booked. */
const deskWork = ({ kind, text }: BoardLine['work'][number]): BoardLine['work'][number] => ({
  kind,
  text: kind === 'undetermined' ? text : '',
  teeth: [],
  surfaces: {},
  asked: null,
})

/** The gates that the desk has a part in; those between are the chair's. */
const deskGate = (gate: BoardLine['gate']): BoardLine['gate'] =>
  gate === 'seat' || gate === 'leave' ? gate : null

function deskLine({ missing, allergyFlag: _, planks, work, ...chairs }: BoardLine): JudgedLine {
  const line = { ...chairs, gate: deskGate(chairs.gate) }
  return {
    ...line,
    work: work.map(deskWork),
    planks: planks.map(deskPlank),
    says: deskSays({ ...chairs, missing }),
    task: deskTaskOf(missing),
  }
}

function deskSays({
  missing,
  state,
  gate,
  next,
}: Pick<BoardLine, 'missing' | 'state' | 'gate' | 'next'>): string {
  const task = missing && sayToDesk(missing)
  if (task) return task
  if (state === 'ready' && gate !== deskGate(gate)) return 'In the chair, and nothing holds it up.'
  if (state === 'ready' || next === null) return sayState(state, gate)
  return `${ACTOR_WORDS[next]} is next to act.`
}

/** Someone sits there and the dentist is the next to act: a message that else is carried on foot. */
export const waitsForDentist = ({ stage, next }: Pick<BoardLine, 'stage' | 'next'>): boolean =>
  next === 'dentist' && ['seated', 'injected', 'clamped', 'finished'].includes(stage)

/** Whether somebody is in the chair is to be seen from the door; what has been done there is not. */
const wallStage = (stage: BoardLine['stage']): BoardLine['stage'] =>
  stage === 'injected' || stage === 'clamped' || stage === 'started' ? 'seated' : stage

function wallLine({ missing: _, allergyFlag: __, planks: ___, ...line }: BoardLine): JudgedLine {
  const ready = line.state === 'ready'
  return {
    ...line,
    stage: wallStage(line.stage),
    gate: null,
    state: ready ? 'ready' : 'preparing',
    planks: [],
    next: null,
    owner: null,
    patient: null,
    // Nobody's name: the page of whoever is waited for tells its own chairs by it.
    dentistId: waitsForDentist(line) ? line.dentistId : null,
    formerDentist: null,
    work: [],
    nameAlert: false,
    task: null,
    says: waitsForDentist(line) ? WAITS_FOR_DENTIST : ready ? 'Ready' : 'Not yet',
  }
}

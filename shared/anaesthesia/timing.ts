import { addMinutes, type Instant, type Minutes } from '../base/moment.ts'
import { memory, read, type Source } from '../base/source.ts'
import type { Agent, Dose, Solution, Technique } from './anaesthetic.ts'

/** How long a solution works, in minutes; null where no figure is printed. */
export interface WorkingTime {
  /** Longest printed time until it works. */
  onset: { infiltration: Minutes; block: Minutes }
  /** Shortest printed time of a numb tooth. */
  pulp: { infiltration: Minutes | null; block: Minutes | null }
  /** Printed range of numb lip, tongue or gum. */
  soft: { from: Minutes; to: Minutes } | null
  source: Source
}

const CE_646 = read('P&G CE646, Duration of Action; onset from the US label')
const MALAMED = read('Malamed, Handbook of Local Anesthesia, tables 4-4 and 4-17; onset from memory')

interface Row extends WorkingTime {
  agent: Agent
  is: (solution: Solution) => boolean
}
const plain = ({ vasoconstrictor }: Solution): boolean => vasoconstrictor === 'none'
const withOne = (solution: Solution): boolean => !plain(solution)

const ROWS: readonly Row[] = [
  {
    agent: 'lidocaine',
    is: withOne,
    onset: { infiltration: 2, block: 4 },
    pulp: { infiltration: 55, block: 80 },
    soft: { from: 180, to: 300 },
    source: CE_646,
  },
  {
    agent: 'lidocaine',
    is: plain,
    onset: { infiltration: 2, block: 4 },
    pulp: { infiltration: 5, block: null },
    soft: { from: 120, to: 120 },
    source: CE_646,
  },
  {
    agent: 'mepivacaine',
    is: plain,
    onset: { infiltration: 2, block: 4 },
    pulp: { infiltration: 20, block: 45 },
    soft: { from: 120, to: 180 },
    source: CE_646,
  },
  {
    agent: 'mepivacaine',
    is: withOne,
    onset: { infiltration: 2, block: 4 },
    pulp: { infiltration: 40, block: 60 },
    soft: { from: 180, to: 300 },
    source: CE_646,
  },
  {
    agent: 'articaine',
    is: ({ ratio }) => ratio !== null && ratio <= 100_000,
    onset: { infiltration: 6, block: 6 },
    pulp: { infiltration: 60, block: 120 },
    soft: { from: 180, to: 300 },
    source: MALAMED,
  },
  {
    agent: 'articaine',
    is: ({ ratio }) => ratio !== null && ratio > 100_000,
    onset: { infiltration: 6, block: 6 },
    pulp: { infiltration: 45, block: 60 },
    soft: { from: 180, to: 240 },
    // The block figure is the AAPD's child table, from memory.
    source: memory('Malamed, Handbook of Local Anesthesia; AAPD child table'),
  },
  {
    agent: 'prilocaine',
    is: plain,
    onset: { infiltration: 2, block: 3 },
    pulp: { infiltration: 10, block: 40 },
    soft: { from: 60, to: 240 },
    source: MALAMED,
  },
  {
    agent: 'prilocaine',
    is: withOne,
    onset: { infiltration: 2, block: 3 },
    pulp: { infiltration: 30, block: 50 },
    soft: { from: 180, to: 360 },
    source: CE_646,
  },
  {
    agent: 'bupivacaine',
    is: () => true,
    onset: { infiltration: 10, block: 10 },
    pulp: { infiltration: 90, block: 240 },
    soft: { from: 240, to: 720 },
    source: MALAMED,
  },
]

/** The printed times of a solution; null where we hold none. */
export const workingTimeOf = (solution: Solution): WorkingTime | null =>
  ROWS.find((row) => row.agent === solution.agent && row.is(solution)) ?? null

/** When an injection may be expected to work, at the latest printed time. Never a statement that it does. */
export function worksFrom(dose: Dose): Instant {
  const onset = workingTimeOf(dose)?.onset
  return addMinutes(dose.at, onset ? onset[isBlock(dose.technique) ? 'block' : 'infiltration'] : 0)
}

/**
 * When the shortest printed time of a numb tooth is over. Where none is printed (ligament injections, topical),
 * the clinic's own minutes for a second look.
 */
export function worksUntil(dose: Dose, recheckMinutes: Minutes): Instant {
  const pulp = isPrinted(dose.technique) ? workingTimeOf(dose)?.pulp : undefined
  const minutes = pulp?.[isBlock(dose.technique) ? 'block' : 'infiltration'] ?? recheckMinutes
  return addMinutes(dose.at, minutes)
}

/** When lip and tongue should feel again, at the latest printed time; null where none is printed. */
export function feelsAgainAt(dose: Dose): Instant | null {
  const soft = workingTimeOf(dose)?.soft
  return soft ? addMinutes(dose.at, soft.to) : null
}

const isBlock = (technique: Technique): boolean => technique === 'block'
const isPrinted = (technique: Technique): boolean => technique === 'block' || technique === 'infiltration'

import { operatoryWords } from '#app/_ui/labels.ts'
import type { BoardLine, Lane } from '#shared/readiness/board-types.ts'
import type { Chair } from './chair.ts'

const IN_CHAIR: readonly BoardLine['stage'][] = ['seated', 'injected', 'clamped', 'started', 'finished']

interface Seats {
  lanes: (Pick<Lane, 'name'> & { now: Pick<BoardLine, 'stage' | 'appointmentId'> | null })[]
}

/** The chairs of a board that somebody sits in. */
export const chairsOf = ({ lanes }: Seats): Chair[] =>
  lanes.flatMap(({ now, name }) =>
    now && IN_CHAIR.includes(now.stage)
      ? [{ appointmentId: now.appointmentId, name: operatoryWords(name) }]
      : [],
  )

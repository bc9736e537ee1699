import type { DayOf } from '#app/_live/day-of.ts'
import { operatoryWords } from '#app/_ui/labels.ts'
import type { MemberId, OperatoryId } from '#shared/ids.ts'
import type { JudgedBoard } from '#shared/readiness/board-types.ts'

/** The choice of nobody or nowhere yet. */
export const NOBODY = ''

export const operatoryOptions = (
  board: JudgedBoard,
): { value: OperatoryId | typeof NOBODY; label: string }[] => [
  { value: NOBODY, label: 'not yet known' },
  ...board.lanes.map((lane) => ({ value: lane.operatoryId, label: operatoryWords(lane.name) })),
]

export const treaterOptions = (of: DayOf): { value: MemberId | typeof NOBODY; label: string }[] => [
  { value: NOBODY, label: 'not yet known' },
  ...of.treaters.map(({ id, shortName }) => ({ value: id, label: shortName })),
]

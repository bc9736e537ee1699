import type { Seen } from '#app/_live/seen.ts'
import type { JudgedLane } from '#shared/readiness/board-types.ts'

/** Of the chairs on the wall, the others that wait for the one who treats at this one, or for the one who looks. */
export function lanesElsewhere(
  lanes: readonly JudgedLane[],
  { facts: { appointment }, member }: Pick<Seen, 'facts' | 'member'>,
): JudgedLane[] {
  const waitedFor = new Set<unknown>([appointment.dentistId, member.id].filter((id) => id !== null))
  return lanes.filter(
    ({ operatoryId, now }) =>
      operatoryId !== appointment.operatoryId && now !== null && waitedFor.has(now.dentistId),
  )
}

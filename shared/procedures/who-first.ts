import { type Instant, minutesBetween } from '../base/moment.ts'
import { VISIT_STAGES, type Visit } from '../schedule/appointment.ts'
import type { ProcedureKind, Work } from './work.ts'

/** How long an answer to who it is stands before what was planned is named otherwise (COMMON: no source). */
export const JUST_ASKED_MINUTES = 5

const isInChair = ({ stage }: Visit): boolean =>
  VISIT_STAGES.indexOf(stage) >= VISIT_STAGES.indexOf('seated') && stage !== 'left'

/** Where someone sits in the chair and who it is was not asked just now: mouth and plan may differ because it is another. */
export const asksWhoFirst = (visit: Visit | null, now: Instant): boolean =>
  visit !== null &&
  isInChair(visit) &&
  (visit.identity === null || minutesBetween(visit.identity.at, now) >= JUST_ASKED_MINUTES)

/** Whether what was named before is named otherwise. Naming what nobody could tell yet is no difference. */
export function isNamedOtherwise(
  known: Pick<Work, 'kind' | 'teeth'> | null,
  named: { kind: ProcedureKind; teeth: readonly Work['teeth'][number][] },
): boolean {
  if (known === null) return true
  if (known.kind !== 'undetermined' && known.kind !== named.kind) return true
  const isSame =
    known.teeth.length === named.teeth.length && known.teeth.every((tooth) => named.teeth.includes(tooth))
  return known.teeth.length > 0 && !isSame
}

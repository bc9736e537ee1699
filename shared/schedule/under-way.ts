import type { World } from '../facts.ts'
import type { AppointmentId } from '../ids.ts'
import { hasReached, type VisitStage } from './appointment.ts'

/**
 * Why nobody can be sent away by a list: in the chair; a stop or help is called; treatment has begun and the patient waits to go
 * on; or it is done and the patient has left.
 */
export type UnderWay = 'in-chair' | 'called' | 'begun' | 'left'

/** The appointments that are under way or done here. What comes first in `UnderWay` counts, but for who has left. */
export function findUnderWay({
  visit,
  dose,
  incident,
}: Pick<World, 'visit' | 'dose' | 'incident'>): Map<AppointmentId, UnderWay> {
  const found = new Map<AppointmentId, UnderWay>()
  for (const { appointmentId } of dose) found.set(appointmentId, 'begun')
  for (const { appointmentId, steps } of visit) if (steps.some(isTreated)) found.set(appointmentId, 'begun')
  for (const { appointmentId, drill, life } of incident)
    if (appointmentId !== null && !drill && life.kind === 'open') found.set(appointmentId, 'called')
  for (const { appointmentId, stage } of visit) {
    if (stage === 'left') found.set(appointmentId, 'left')
    else if (hasReached(stage, 'seated')) found.set(appointmentId, 'in-chair')
  }
  return found
}

const isTreated = ({ stage }: { stage: VisitStage }): boolean => hasReached(stage, 'injected')

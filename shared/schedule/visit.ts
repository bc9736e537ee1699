import type { Instant } from '../base/moment.ts'
import type { AppointmentId, ClinicId, MemberId, VisitId } from '../ids.ts'
import { type Occupancy, ROOM_TASKS, type RoomTask, type Visit, type VisitStage } from './appointment.ts'

/** Who does it, and when. */
export interface Moment {
  now: Instant
  by: { id: MemberId }
}
interface Making extends Moment {
  clinicId: ClinicId
  newId: <Id>() => Id
}

/** A visit of which nothing has happened yet. */
export const makeVisit = (appointmentId: AppointmentId, { clinicId, newId, now }: Making): Visit => ({
  clinicId,
  id: newId<VisitId>(),
  appointmentId,
  stage: 'expected',
  since: now,
  steps: [],
  identity: null,
  identityDiffered: null,
  nameAlertSeen: null,
  readBack: null,
  recounted: null,
  timeOut: null,
  consent: null,
  clamp: null,
  counts: null,
  aftercare: null,
})

/** The visit one stage further; the step is kept. */
export const reach = (visit: Visit, stage: VisitStage, { now, by }: Moment): Visit => ({
  ...visit,
  stage,
  since: now,
  steps: [...visit.steps, { stage, at: now, by: by.id }],
})

/**
 * Back in the waiting room. Who the patient is, which tooth was read back and the time-out must all be asked
 * again; what was given and agreed stays on record.
 */
export const leaveChair = (visit: Visit, moment: Moment): Visit => ({
  ...reach(visit, 'arrived', moment),
  identity: null,
  readBack: null,
  timeOut: null,
  recounted: null,
  clamp: null,
})

/** Who the patient is, and then which tooth, must be asked again in the chair. */
export const whoAnew = (visit: Visit): Visit => ({ ...visit, identity: null, readBack: null, timeOut: null })

/** Turning over after a patient: nothing ticked yet. */
export const soil = (
  occupancy: Occupancy,
  { now, latexUsed }: { now: Instant; latexUsed: boolean },
): Occupancy => ({
  ...occupancy,
  life: { kind: 'turning-over', since: now, done: [], latexUsed },
})

export const tasksLeft = (done: readonly RoomTask[]): RoomTask[] =>
  ROOM_TASKS.filter((task) => !done.includes(task))
